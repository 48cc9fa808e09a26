"""Make a folder that holds the program with its Python: `python3 tests/make_bundle.py [--to DIR]`.

Copied to another machine of the same kind, it runs there without an installation: `DIR/rampdraft`. What goes
into it is what `requirements.txt` locks; cx_Freeze, which puts it together, is needed only for that.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import textwrap
import venv
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parent.parent
MAKER: Final = "cx_Freeze==8.7.3"

_LEFT_OUT: Final = ("tkinter", "unittest", "pydoc_data", "lib2to3", "test")
"""Of the standard library, what nothing here asks for."""

_SETUP: Final = """
from cx_Freeze import Executable, setup

setup(
    name="rampdraft",
    version={version!r},
    executables=[Executable({start!r}, target_name="rampdraft")],
    options={{"build_exe": {{
        "build_exe": {to!r},
        "packages": ["rampdraft", "numpy", "scipy", "ezdxf", "reportlab", "PySide6.QtSvg"],
        "excludes": {left_out!r},
        "include_msvcr": False,
        "optimize": 0,
        "zip_include_packages": [],
        "zip_exclude_packages": ["*"],
    }}}},
)
"""


def main() -> int:
    """Make the folder and say how large it is."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--to", type=Path, default=ROOT / "dist" / "rampdraft", help="the folder to make")
    options = parser.parse_args()
    folder = options.to.resolve()
    bundle(folder)
    size = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
    print(f"{folder}: {size / 1e6:.0f} MB")
    return 0


def bundle(folder: Path) -> None:
    """Make a folder with the program and its Python in it."""
    with tempfile.TemporaryDirectory() as scratch:
        work = Path(scratch)
        venv.create(work / "env", with_pip=True)
        python = work / "env" / ("Scripts" if os.name == "nt" else "bin") / "python"
        subprocess.run([python, ROOT / "install.py"], check=True, cwd=work)
        subprocess.run([python, "-m", "pip", "install", "--quiet", MAKER], check=True, cwd=work)
        start = work / "start.py"
        start.write_text(
            textwrap.dedent(
                """
                import sys
                from multiprocessing.spawn import freeze_support

                if __name__ == "__main__":
                    freeze_support()  # a process of the program's own begins here too

                    from rampdraft.__main__ import main

                    sys.exit(main())
                """
            )
        )
        ask = [python, "-c", "import rampdraft; print(rampdraft.__version__)"]
        version = subprocess.run(ask, check=True, cwd=work, capture_output=True, text=True).stdout.strip()
        setup = work / "setup.py"
        setup.write_text(
            _SETUP.format(version=version, start=str(start), to=str(folder), left_out=list(_LEFT_OUT))
        )
        subprocess.run([python, setup, "--quiet", "build_exe"], check=True, cwd=work)


if __name__ == "__main__":
    sys.exit(main())
