"""Window or command line: the only place that knows both."""

import sys
from pathlib import Path

from rampdraft.cli.guard import guarded


def main() -> None:
    """Run the program and leave with its exit code."""
    sys.exit(guarded(_run))


def _run() -> int:
    # Imported only here, so that a fault in what is loaded is told as one.
    from rampdraft.cli.main import run

    return run(sys.argv[1:], _window)


def _window(file: Path | None) -> int:
    # Imported only here, so that the commands never load Qt.
    from rampdraft.app.shell.main import run as open_window

    return open_window(file)


if __name__ == "__main__":
    main()
