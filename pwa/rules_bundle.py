"""The rules as the phone gets them: `craft` and `day` without docstrings and comments.

Lines stay where they are, so a traceback on a phone names the true line of the source.
Knows Python's syntax only, nothing of the build around it.
"""

from __future__ import annotations

import ast
import io
import json
import tokenize
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parent.parent
BUNDLE = REPOSITORY / "pwa" / "generated" / "rules.json"
PACKAGES = ("craft", "day")


def rules_files(backend: Path = REPOSITORY / "backend") -> list[Path]:
    """Return every Python file of `craft` and `day`, sorted by path."""
    return sorted(path for package in PACKAGES for path in (backend / "tailslate" / package).rglob("*.py"))


def _docstrings(tree: ast.Module) -> list[tuple[ast.Expr, bool]]:
    """Return each docstring, and whether its body holds nothing else and so needs a `pass`."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[0] if node.body else None
            if (
                isinstance(first, ast.Expr)
                and isinstance(first.value, ast.Constant)
                and isinstance(first.value.value, str)
            ):
                found.append((first, len(node.body) == 1 and not isinstance(node, ast.Module)))
    return found


def stripped(source: str) -> str:
    """Return the source without docstrings and comments, every other token on its own line as before."""
    lines = [line.encode() for line in source.splitlines(keepends=True)]  # ast counts columns in bytes
    spans: list[tuple[int, int, int, int, bytes]] = []
    for docstring, needs_pass in _docstrings(ast.parse(source)):
        end_line, end_column = docstring.end_lineno, docstring.end_col_offset
        assert end_line is not None
        assert end_column is not None
        spans.append(
            (docstring.lineno, docstring.col_offset, end_line, end_column, b"pass" if needs_pass else b"")
        )
    text_lines = source.splitlines(keepends=True)
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT:
            row, column = token.start
            start = len(text_lines[row - 1][:column].encode())
            spans.append((row, start, row, start + len(token.string.encode()), b""))
    for first_line, first_column, last_line, last_column, instead in sorted(spans, reverse=True):
        after = lines[last_line - 1][last_column:]
        kept = lines[first_line - 1][:first_column] + instead
        if first_line == last_line:
            lines[first_line - 1] = kept + after
        else:
            lines[first_line - 1] = kept + b"\n"
            for index in range(first_line, last_line - 1):
                lines[index] = b"\n"
            lines[last_line - 1] = after
    return "".join(line.decode().rstrip() + "\n" for line in lines)


def rules_bundle(backend: Path = REPOSITORY / "backend") -> dict[str, str]:
    """Return path under /lib -> stripped source, for every rules file and the package above them."""
    files = {"tailslate/__init__.py": ""}
    for path in rules_files(backend):
        files[path.relative_to(backend).as_posix()] = stripped(path.read_text(encoding="utf-8"))
    return files


def write_bundle() -> Path:
    """Write the bundle where the front end's build imports it, and return that path."""
    BUNDLE.parent.mkdir(exist_ok=True)
    text = json.dumps(rules_bundle(), ensure_ascii=False, indent=0, sort_keys=True) + "\n"
    if not BUNDLE.exists() or BUNDLE.read_text(encoding="utf-8") != text:
        BUNDLE.write_text(text, encoding="utf-8")
    return BUNDLE


if __name__ == "__main__":
    print(write_bundle().relative_to(REPOSITORY))
