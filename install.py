"""Installs rampdraft into the environment of the Python that runs this, from `requirements.txt` alone.

    .venv/bin/python install.py               the program and what it needs
    .venv/bin/python install.py --tests       what its tests need as well
    .venv/bin/python install.py --editable    the program as a link to this checkout

Every package is a wheel whose hash stands in `requirements.txt`. The program itself is built by the
setuptools of that list, without a look at any package index.
"""

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent
FOR_THE_TESTS = "# For the tests\n"
"""The line of `requirements.txt` below which stands what only the tests need."""


def locked(tests: bool) -> str:
    """Return what `requirements.txt` lists: for the program, or for the program and its tests."""
    text = (ROOT / "requirements.txt").read_text(encoding="utf-8")
    return text if tests else text.partition(FOR_THE_TESTS)[0]


def pip_install(*arguments: str) -> None:
    """Run pip for this environment; raises CalledProcessError where it fails."""
    quiet = ("--quiet", "--disable-pip-version-check", "--root-user-action=ignore")
    subprocess.run([sys.executable, "-m", "pip", "install", *quiet, *arguments], check=True)


def main() -> int:
    """Install what the command line asks for; returns pip's exit code, which has told what is wrong."""
    parser = argparse.ArgumentParser(description="Installs rampdraft from requirements.txt alone.")
    parser.add_argument("--tests", action="store_true", help="what the tests need as well")
    parser.add_argument("--editable", action="store_true", help="the program as a link to this checkout")
    wanted = parser.parse_args()
    program = ["--editable", str(ROOT)] if wanted.editable else [str(ROOT)]
    try:
        # pip takes a whole file only; a file in a folder of its own can be read by pip on Windows too.
        with tempfile.TemporaryDirectory() as folder:
            part = Path(folder) / "requirements.txt"
            part.write_text(locked(wanted.tests), encoding="utf-8")
            pip_install("--require-hashes", "--only-binary", ":all:", "--requirement", str(part))
        pip_install("--no-index", "--no-deps", "--no-build-isolation", *program)
    except subprocess.CalledProcessError as failed:
        return failed.returncode
    return 0


if __name__ == "__main__":
    sys.exit(main())
