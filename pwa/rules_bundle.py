"""The rules as the phone gets them: `craft` and `day` minified, for every kilobyte is a wait at the door of a set.

A traceback on a phone still names the file and the function; the line is that of the minified text.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

from python_minifier import minify

from reached import reached

REPOSITORY = Path(__file__).resolve().parent.parent
PACKAGES = ("craft", "day")


def rules_files(backend: Path = REPOSITORY / "backend") -> list[Path]:
    """Return every Python file of `craft` and `day`, sorted by path."""
    return sorted(path for package in PACKAGES for path in (backend / "tailslate" / package).rglob("*.py"))


class _WithoutTypes(ast.NodeTransformer):
    """Leaves out what only a type checker reads."""

    def visit_If(self, node: ast.If) -> ast.If | None:
        return None if ast.unparse(node.test) == "TYPE_CHECKING" else node

    def visit_Assign(self, node: ast.Assign) -> ast.Assign | None:
        return None if ast.unparse(node.targets[0]) == "TYPE_CHECKING" else node


def _called_elsewhere(tree: ast.AST) -> list[str]:
    """Return every name of a file that another may import: all but those that begin with an underscore."""
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    names |= {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.ClassDef)}
    names |= {node.asname or node.name for node in ast.walk(tree) if isinstance(node, ast.alias)}
    return sorted(name for name in names if not name.startswith("_"))


def shipped(source: str) -> str:
    """Return the source as the phone runs it: no docstrings, comments or annotations, short names of its own."""
    return _minified(_WithoutTypes().visit(ast.parse(source)))


def _minified(tree: ast.Module) -> str:
    return minify(
        ast.unparse(tree),
        remove_literal_statements=True,
        remove_annotations=True,
        rename_locals=True,
        rename_globals=True,
        preserve_globals=_called_elsewhere(tree),
        hoist_literals=False,  # what packs the files does it better
    )


@cache
def rules_bundle(backend: Path = REPOSITORY / "backend") -> dict[str, str]:
    """Return path under /lib -> source as shipped, for every rules file and the package above them."""
    files = {"tailslate/__init__.py": ""}
    for path in rules_files(backend):
        files[path.relative_to(backend).as_posix()] = shipped(path.read_text(encoding="utf-8"))
    return files


@cache
def phone_bundle(backend: Path = REPOSITORY / "backend") -> dict[str, str]:
    """Return the same, but only what the phone's one door reaches: a phone can run nothing else."""
    paths = {path.relative_to(backend): path for path in rules_files(backend)}
    trees = {
        ".".join(place.with_suffix("").parts).removesuffix(".__init__"): _WithoutTypes().visit(
            ast.parse(path.read_text(encoding="utf-8"))
        )
        for place, path in paths.items()
    }
    kept = reached({**trees, "tailslate": ast.Module([], [])})
    files = {}
    for module, tree in kept.items():
        place = module.replace(".", "/")
        is_package = (backend / place).is_dir()
        files[place + ("/__init__.py" if is_package else ".py")] = _minified(tree) if tree.body else ""
    return files
