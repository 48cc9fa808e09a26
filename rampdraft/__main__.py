"""Window or command line: the only place that knows both."""

import sys
from pathlib import Path

from rampdraft.cli.main import quietly, run


def main() -> None:
    """Run the program and leave with its exit code."""
    sys.exit(quietly(lambda: run(sys.argv[1:], _window)))


def _window(file: Path | None) -> int:
    # Imported only here, so that the commands never load Qt.
    from rampdraft.app.shell.main import run as open_window

    return open_window(file)


if __name__ == "__main__":
    main()
