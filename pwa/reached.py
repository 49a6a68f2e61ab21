"""What of the rules a phone can ever run: all that its one door reaches, by name. The rest is the desk's and the tests'.

A name that is written anywhere in what is reached keeps every function of that name, whatever its file: rather too
much is kept than too little. A missing one would show as a NameError in tests/micropython.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator

DOOR = "tailslate.day.phone_door"
ASKED = "call"

Trees = dict[str, ast.Module]  # by dotted name of the module


def names_in(node: ast.AST) -> set[str]:
    """Return every name that a piece of code writes, attributes and what it imports included."""
    found = {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}
    found |= {one.attr for one in ast.walk(node) if isinstance(one, ast.Attribute)}
    return found | {one.name for one in ast.walk(node) if isinstance(one, ast.alias)}


def _named_by(statement: ast.stmt) -> set[str] | None:
    """Return the names that a statement makes; None for one that has to run whatever happens."""
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        return {statement.name}
    targets: list[ast.expr] = []
    if isinstance(statement, ast.Assign):
        targets = list(statement.targets)
    elif isinstance(statement, ast.AnnAssign):
        targets = [statement.target]
    flat = [part for one in targets for part in (one.elts if isinstance(one, ast.Tuple) else [one])]
    if not flat or not all(isinstance(one, ast.Name) for one in flat):
        return None
    return {one.id for one in flat if isinstance(one, ast.Name)}


def _imports(node: ast.AST, inside: str, trees: Trees) -> Iterator[tuple[str, str]]:
    """Yield each rules module that a piece of a module's code imports from, with the local name of what it takes."""
    for one in ast.walk(node):
        if isinstance(one, ast.ImportFrom):
            package = inside.rpartition(".")[0] if one.level else ""
            module = ".".join(part for part in (package, one.module) if part)
            for alias in one.names:
                whole = f"{module}.{alias.name}"
                yield (whole if whole in trees else module), alias.asname or alias.name


def reached(trees: Trees) -> Trees:
    """Return the modules that the door reaches, each without the functions and constants that nothing reached names.

    Args:
        trees: every module of the rules, by dotted name.
    """
    modules, names = {DOOR}, {ASKED}
    before = (0, 0)
    while before != (len(modules), len(names)):
        before = (len(modules), len(names))
        for module in sorted(modules):
            for statement in trees[module].body:
                if isinstance(statement, ast.Import | ast.ImportFrom):
                    continue
                made = _named_by(statement)
                if made is None or made & names:
                    names |= names_in(statement)
                    modules |= {one for one, _name in _imports(statement, module, trees) if one in trees}
            taken = [one for one in trees[module].body if isinstance(one, ast.ImportFrom)]
            modules |= {
                one
                for statement in taken
                for one, name in _imports(statement, module, trees)
                if one in trees and name in names
            }
    return {module: _kept(trees[module], names) for module in sorted(modules | _packages(modules))}


def _packages(modules: set[str]) -> set[str]:
    return {module.rpartition(".")[0] for module in modules}


def _kept(tree: ast.Module, names: set[str]) -> ast.Module:
    body: list[ast.stmt] = []
    for statement in tree.body:
        if isinstance(statement, ast.ImportFrom):
            wanted = [one for one in statement.names if (one.asname or one.name) in names]
            if wanted:
                body.append(ast.ImportFrom(statement.module, wanted, statement.level))
            continue
        made = _named_by(statement)
        if made is None or made & names:
            body.append(statement)
    return ast.Module(body, [])
