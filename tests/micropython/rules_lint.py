"""What a file of `craft` or `day` may not hold, found in its syntax tree.

Which names exist on the phone is asked of the phone's Python itself; only syntax and
silent differences are listed here. Each complaint says what to write instead.
"""

from __future__ import annotations

import ast
import builtins
import json
import re
import string
from dataclasses import dataclass
from pathlib import Path

from micropython.interpreter import MicroPython
from rules_bundle import REPOSITORY

MODULES = {
    "craft": {"math"},
    "day": {
        "json",
        "io",
        "hashlib",
        "binascii",
        "re",
        "collections",
        "heapq",
    },
}
ARROWS = {"craft": {"craft"}, "day": {"craft", "day"}}
FOR_TYPES = {"typing", "collections.abc"}
TYPES = ("str", "bytes", "int", "float", "list", "dict", "set", "frozenset", "tuple")
ROUNDING = "craft/rounding.py"
FLOAT_FORMAT = re.compile(r"[.\d]+[eEfFgG%]$|^[eEfFgG%]$|,")
PERCENT_FORMAT = re.compile(r"%[-+ #0]*\d*(\.\d+)?[eEfFgG]")
REGEX_LACKS = re.compile(r"\(\?(?!:)|(?<!\\)\{\d")
SERVER_ONLY = "# server only"  # ends a line that the phone never reaches
DICT_VIEWS = {"keys", "items"}


@dataclass(frozen=True)
class PhoneNames:
    """The names that the phone's Python has."""

    builtins: frozenset[str]
    methods: frozenset[str]
    modules: dict[str, frozenset[str]]

    @staticmethod
    def of(micropython: MicroPython) -> PhoneNames:
        """Ask the interpreter."""
        modules = sorted(set().union(*MODULES.values()))
        types = ", ".join(TYPES)
        program = f"""
import json, builtins
methods = []
for each in ({types}, json.loads):
    methods.extend(dir(each))
modules = {{name: dir(__import__(name)) for name in {modules!r}}}
print(json.dumps([dir(builtins), methods, modules]))
"""
        names, methods, members = json.loads(micropython.run(program))
        return PhoneNames(
            frozenset(names), frozenset(methods), {name: frozenset(members[name]) for name in members}
        )


# Methods of CPython's own types; called on anything, they must exist on the phone.
CPYTHON_METHODS = frozenset(
    name for type_name in TYPES for name in dir(getattr(builtins, type_name)) if name[0] != "_"
)
CPYTHON_BUILTINS = frozenset(name for name in dir(builtins) if name[0] != "_")


def complaints(source: str, place: str, phone: PhoneNames) -> list[str]:
    """Return "line: what is wrong" for a rules file; `place` is its path below tailslate: "craft/light.py"."""
    tree = ast.parse(source)
    reader = _Reader(source, place, phone)
    reader.own_names = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
    reader.visit(tree)
    lines = source.splitlines()
    return [
        f"{line}: {what}" for line, what in sorted(reader.found) if not lines[line - 1].endswith(SERVER_ONLY)
    ]


class _Reader(ast.NodeVisitor):
    """Walks one file; annotations and `if TYPE_CHECKING:` are passed by, for MicroPython never runs them."""

    def __init__(self, source: str, place: str, phone: PhoneNames) -> None:
        self.source = source
        self.place = place
        self.package = place.split("/")[0]
        self.phone = phone
        self.own_names: set[str] = set()
        self.found: set[tuple[int, str]] = set()

    def say(self, node: ast.AST, what: str) -> None:
        self.found.add((getattr(node, "lineno", 0), what))

    # What MicroPython never evaluates

    def visit_If(self, node: ast.If) -> None:
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            for child in ast.walk(node):
                if isinstance(child, ast.Import | ast.ImportFrom):
                    self.check_import(child, FOR_TYPES)
            for child in node.orelse:
                self.visit(child)
            return
        self.generic_visit(node)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        self.visit(node.target)
        if node.value:
            self.visit(node.value)

    def visit_arg(self, node: ast.arg) -> None:
        pass

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        for child in [*node.decorator_list, node.args, *node.body]:
            self.visit(child)

    # Imports

    def visit_Import(self, node: ast.Import) -> None:
        self.check_import(node, set())

    def visit_ImportFrom(self, node: ast.ImportFrom) -> None:
        self.check_import(node, set())

    def check_import(self, node: ast.Import | ast.ImportFrom, also: set[str]) -> None:
        allowed = MODULES.get(self.package, set()) | also
        if isinstance(node, ast.Import):
            targets = [alias.name for alias in node.names]
        elif node.level:
            above = ["tailslate", *self.place.split("/")[:-1]]
            base = above[: len(above) - node.level + 1] + (node.module.split(".") if node.module else [])
            targets = (
                [".".join(base)] if len(base) > 1 else [f"tailslate.{alias.name}" for alias in node.names]
            )
        elif node.module == "tailslate":
            targets = [f"tailslate.{alias.name}" for alias in node.names]
        else:
            targets = [node.module or ""]
        for target in targets:
            parts = target.split(".")
            if parts[0] == "tailslate":
                if len(parts) < 2 or parts[1] not in ARROWS.get(self.package, set()):
                    self.say(node, f"{self.package} may not import {target}; the arrows run day -> craft")
            elif target not in allowed:
                self.say(
                    node, f"{self.package} may not import {target}; allowed: {', '.join(sorted(allowed))}"
                )
            elif isinstance(node, ast.ImportFrom) and target in self.phone.modules:
                for alias in node.names:
                    self.check_member(node, target, alias.name)

    def check_member(self, node: ast.AST, module: str, name: str) -> None:
        if name not in self.phone.modules[module]:
            self.say(node, f"{module}.{name} does not exist on the phone")

    # Names, attributes, calls

    def visit_Name(self, node: ast.Name) -> None:
        absent = (
            node.id in CPYTHON_BUILTINS
            and node.id not in self.phone.builtins
            and node.id not in self.own_names
        )
        if absent and isinstance(node.ctx, ast.Load) and node.id not in {"True", "False", "None"}:
            self.say(node, f"{node.id} does not exist on the phone")

    def visit_Attribute(self, node: ast.Attribute) -> None:
        if isinstance(node.value, ast.Name) and node.value.id in self.phone.modules:
            self.check_member(node, node.value.id, node.attr)
        elif node.attr in {"_replace", "_asdict", "_fields", "_make", "hexdigest"}:
            self.say(node, f".{node.attr} does not exist on the phone")
        self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        name = node.func.id if isinstance(node.func, ast.Name) else None
        method = node.func.attr if isinstance(node.func, ast.Attribute) else None
        module = node.func.value.id if method and isinstance(node.func.value, ast.Name) else None  # type: ignore[attr-defined]
        keywords = {keyword.arg for keyword in node.keywords}
        if name in {"sum", "zip"} and keywords:
            self.say(node, f"{name}() takes no keywords on the phone")
        if (name == "namedtuple" or method == "namedtuple") and keywords:
            self.say(node, "namedtuple takes no keywords on the phone")
        if name == "round" and self.place != ROUNDING:
            self.say(node, f"round() differs on halves; use {ROUNDING}")
        if module == "json" and keywords - {"separators"}:
            self.say(node, "json takes no keywords but separators on the phone")
        if module == "re" and node.args and isinstance(node.args[0], ast.Constant):
            if REGEX_LACKS.search(str(node.args[0].value)):
                self.say(node, "the phone's re has no (?...) but (?:...), and no {2}")
        elif method and method not in self.own_names and module not in self.phone.modules:
            if method in CPYTHON_METHODS and method not in self.phone.methods:
                self.say(node, f".{method}() does not exist on the phone")
            if method in {"union", "intersection"} and len(node.args) > 1:
                self.say(node, f".{method}() takes one set on the phone")
            if method == "format" and self.place != ROUNDING and _formats_a_float(node.func):
                self.say(node, f"a number format differs on the phone; use {ROUNDING}")
        self.generic_visit(node)

    # Syntax

    def visit_Match(self, node: ast.Match) -> None:
        self.say(node, "no match statement on the phone; use if and elif")
        self.generic_visit(node)

    def visit_TryStar(self, node: ast.AST) -> None:
        self.say(node, "no except* on the phone")

    def visit_TypeAlias(self, node: ast.AST) -> None:
        self.say(node, "no type statement on the phone")

    def visit_AsyncFunctionDef(self, node: ast.AsyncFunctionDef) -> None:
        self.say(node, "the rules wait for nothing: no async")

    def visit_arguments(self, node: ast.arguments) -> None:
        for argument in node.posonlyargs:
            self.say(argument, "no positional-only / on the phone")
        self.generic_visit(node)

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        if node.keywords:
            self.say(node, "no class keywords on the phone")
        self.generic_visit(node)

    def check_display(self, node: ast.List | ast.Tuple | ast.Set) -> None:
        loads = not isinstance(getattr(node, "ctx", None), ast.Store)
        if loads and any(isinstance(element, ast.Starred) for element in node.elts):
            self.say(node, "no *unpacking in a display or a return on the phone; use + or list.extend")
        self.generic_visit(node)

    visit_List = visit_Tuple = visit_Set = check_display

    def visit_Dict(self, node: ast.Dict) -> None:
        if None in node.keys:
            self.say(node, "no {**a} on the phone; use a | b")
        self.generic_visit(node)

    def visit_With(self, node: ast.With) -> None:
        text = self.source.splitlines()[node.lineno - 1].encode()[node.col_offset :]
        if re.match(rb"with\s*\(", text):
            self.say(node, "no parenthesised with on the phone")
        self.generic_visit(node)

    def visit_Slice(self, node: ast.Slice) -> None:
        if node.step is not None:
            self.say(node, "text has no slices with a step on the phone; use reversed() or range()")
        self.generic_visit(node)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        if isinstance(node.value, ast.Name) and node.value.id in {*TYPES, "type"}:
            self.say(node, f"{node.value.id}[...] fails at run time on the phone; keep it in annotations")
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        for side in (node.left, node.right):
            is_type = isinstance(side, ast.Name) and side.id in {*TYPES, "bool"}
            if isinstance(node.op, ast.BitOr) and (
                is_type or (isinstance(side, ast.Constant) and side.value is None)
            ):
                self.say(node, "X | Y of types fails at run time on the phone; isinstance takes a tuple")
            if isinstance(node.op, ast.BitAnd | ast.BitOr | ast.Sub | ast.BitXor) and _is_view(side):
                self.say(node, "the phone's dict views have no set operations; write set(d) first")
        left = node.left.value if isinstance(node.left, ast.Constant) else None
        formats = isinstance(node.op, ast.Mod) and isinstance(left, str) and PERCENT_FORMAT.search(left)
        if formats and self.place != ROUNDING:
            self.say(node, f"% rounds differently on the phone; use {ROUNDING}")
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        if any(map(_is_view, [node.left, *node.comparators])) and not isinstance(
            node.ops[0], ast.In | ast.NotIn
        ):
            self.say(node, "the phone's dict views do not compare; write set(d) first")
        self.generic_visit(node)

    def visit_FormattedValue(self, node: ast.FormattedValue) -> None:
        if isinstance(node.format_spec, ast.JoinedStr) and self.place != ROUNDING:
            spec = "".join(
                str(part.value) for part in node.format_spec.values if isinstance(part, ast.Constant)
            )
            if FLOAT_FORMAT.search(spec):
                self.say(node, f"a number format differs on the phone; use {ROUNDING}")
        self.generic_visit(node)


def _is_view(node: ast.AST) -> bool:
    return (
        isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in DICT_VIEWS
    )


def _formats_a_float(function: ast.AST) -> bool:
    template = function.value if isinstance(function, ast.Attribute) else None
    text = template.value if isinstance(template, ast.Constant) and isinstance(template.value, str) else ""
    return any(
        FLOAT_FORMAT.search(spec or "") for _text, _name, spec, _turned in string.Formatter().parse(text)
    )


def place_of(path: Path) -> str:
    """Return a rules file's path below tailslate: "craft/light.py"."""
    return path.relative_to(REPOSITORY / "backend" / "tailslate").as_posix()
