"""Writes `requirements.txt` again: the newest of what pyproject.toml allows, with hashes, for each Python.

    python3 tests/make_lock.py

The resolver (uv) is installed into an environment of its own that is gone afterwards. The file is written
only when every Python has a wheel of every package on each of PLATFORMS.
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
# What install.py installs, with hashes, for Python {PYTHONS[0]} to {PYTHONS[-1]}:
# first what the program needs, then what only its tests need.
# Written by `python3 tests/make_lock.py`; do not edit.
--only-binary :all:

"""
COMPILE = (
    f"pip compile pyproject.toml - --universal --python-version {PYTHONS[0]} --generate-hashes"
    " --only-binary :all: --no-emit-index-url --no-header --annotation-style line --quiet"
)
INSTALL = "pip install --dry-run --require-hashes --only-binary :all: --quiet"


def resolver(folder: Path) -> Path:
    """Return the program uv, installed into a new environment in the folder."""
    venv.create(folder, with_pip=True)
    scripts = folder / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run([scripts / "python", "-m", "pip", "install", "--quiet", "uv"], check=True)
    return scripts / "uv"


def entries(uv: Path, *arguments: str) -> list[str]:
    """Return what uv resolves pyproject.toml and its build system to, an entry a version of a package."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    done = subprocess.run(
        [uv, *COMPILE.split(), *arguments],
        input="\n".join(project["build-system"]["requires"]),
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
        check=True,
    )
    return [entry for entry in re.split(r"^(?=\S)", done.stdout, flags=re.MULTILINE) if entry]


def package(entry: str) -> str:
    """Return the name of the package that an entry is of."""
    return entry.partition("==")[0]


def installs(uv: Path, lock: Path, python: str, platform: str) -> bool:
    """Return whether each entry of a lock that this Python and platform takes has a wheel for it."""
    print(f"wheels for Python {python} on {platform}", flush=True)
    where = ("--python-version", python, "--python-platform", platform, "--target", lock.parent / "none")
    done = subprocess.run(
        [uv, *INSTALL.split(), *where, "--requirement", lock],
        env={**os.environ, "MACOSX_DEPLOYMENT_TARGET": "15.0"},
        check=False,
    )
    return done.returncode == 0


def main() -> int:
    """Write the lock; returns 1, with the lock as it was, where a wheel is missing."""
    with tempfile.TemporaryDirectory() as folder:
        uv, new = resolver(Path(folder) / "uv"), Path(folder) / LOCK.name
        whole = entries(uv, "--extra", "test")
        new.write_text("".join(whole), encoding="utf-8")
        # The program's own part of that, and not what it would get without the tests.
        own = {package(entry) for entry in entries(uv, "--constraints", str(new))}
        program, tests = (
            "".join(entry for entry in whole if (package(entry) in own) is mine) for mine in (True, False)
        )
        new.write_text(f"{HEAD}{program}\n{FOR_THE_TESTS}{tests}", encoding="utf-8")
        places = [(python, platform) for python in PYTHONS for platform in PLATFORMS]
        whole_everywhere = all(installs(uv, new, *place) for place in places)
        if whole_everywhere:
            LOCK.write_bytes(new.read_bytes())
    return 0 if whole_everywhere else 1


if __name__ == "__main__":
    sys.exit(main())
