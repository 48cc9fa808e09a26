"""Writes `requirements.txt` again: the newest of what pyproject.toml allows, with hashes, for each Python that
the program runs on.

    python3 tests/make_lock.py

The resolver (uv) is installed into an environment of its own that is gone afterwards. The file is written only when
every Python has a wheel of every package on each of PLATFORMS.
"""

import os
import re
import subprocess
import sys
import tempfile
import tomllib
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from install import FOR_THE_TESTS  # noqa: E402  (the checkout's root is not on the path of a script in tests/)

LOCK = ROOT / "requirements.txt"
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
# Debian 12; the oldest that PySide6 has wheels for on ARM; macOS 15; Windows.
PLATFORMS = ("x86_64-manylinux_2_36", "aarch64-manylinux_2_39", "macos", "windows")
HEAD = f"""\
# What install.py installs, with hashes, for Python {PYTHONS[0]} to {PYTHONS[-1]}: first what the program needs, then
# what only its tests need. Written by `python3 tests/make_lock.py`; do not edit.
--only-binary :all:

"""


def resolver(folder: Path) -> Path:
    """Return the program uv, installed into a new environment in the folder."""
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run([scripts / "python", "-m", "pip", "install", "--quiet", "uv"], check=True)
    return scripts / "uv"


def entries(uv: Path, *arguments: str) -> dict[tuple[str, str], str]:
    """Return what uv resolves of pyproject.toml and its build system: each entry by package and first line."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    done = subprocess.run(
        [uv, "pip", "compile", "pyproject.toml", "-", *arguments, "--python-version", PYTHONS[0], "--universal"]
        + ["--generate-hashes", "--only-binary", ":all:", "--no-emit-index-url", "--no-header", "--quiet"]
        + ["--annotation-style", "line"],
        input="\n".join(project["build-system"]["requires"]),
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    found = re.split(r"^(?=\S)", done.stdout, flags=re.MULTILINE)
    return {(entry.partition("==")[0], entry.partition("\n")[0]): entry for entry in found if entry}


def installs(uv: Path, lock: Path, python: str, platform: str) -> bool:
    """Return whether each entry of a lock that this Python and platform takes has a wheel for it."""
    print(f"wheels for Python {python} on {platform}", flush=True)
    done = subprocess.run(
        [uv, "pip", "install", "--dry-run", "--quiet", "--python-version", python, "--python-platform", platform]
        + ["--only-binary", ":all:", "--require-hashes", "--target", lock.parent / "none", "--requirement", lock],
        env={**os.environ, "MACOSX_DEPLOYMENT_TARGET": "15.0"},
        check=False,
    )
    return done.returncode == 0


def main() -> int:
    """Write the lock; returns 1, with the lock as it was, where a wheel is missing."""
    with tempfile.TemporaryDirectory() as folder:
        uv, new = resolver(Path(folder) / "uv"), Path(folder) / LOCK.name
        whole = entries(uv, "--extra", "test")
        new.write_text("".join(whole.values()), encoding="utf-8")
        # The program's own part of that, and not what it would get without the tests.
        own = {package for package, _ in entries(uv, "--constraints", str(new))}
        program, tests = (
            "".join(entry for (package, _), entry in whole.items() if (package in own) is mine)
            for mine in (True, False)
        )
        new.write_text(f"{HEAD}{program}\n{FOR_THE_TESTS}{tests}", encoding="utf-8")
        missing = [1 for python in PYTHONS for platform in PLATFORMS if not installs(uv, new, python, platform)]
        if not missing:
            LOCK.write_bytes(new.read_bytes())
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
