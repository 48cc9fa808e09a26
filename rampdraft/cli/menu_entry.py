"""The entry in the menu of a Linux desktop: the program with its icon, and designs with theirs.

By the open standards of freedesktop.org: Desktop Entry Specification 1.5, Shared MIME-info Database 0.21,
XDG Base Directory Specification 0.8. A design is known by its first line, since its ending is that of all
TOML.
"""

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

from rampdraft.drawing.style import icon_path
from rampdraft.files.text_file import write_whole

MIME: Final = "application/x-rampdraft-design"

ENTRY: Final = """[Desktop Entry]
Type=Application
Version=1.5
Name=Rampdraft
GenericName=Folding ramps
Comment=Draft a two-section folding ramp: fold, slopes, checks, cutting list
Exec={command} %f
Icon=rampdraft
Terminal=false
Categories=Graphics;Engineering;
MimeType={mime};
StartupWMClass=rampdraft
"""

TYPE: Final = """<?xml version="1.0" encoding="UTF-8"?>
<mime-info xmlns="http://www.freedesktop.org/standards/shared-mime-info">
  <mime-type type="{mime}">
    <comment>Design of a folding ramp</comment>
    <sub-class-of type="application/toml"/>
    <icon name="rampdraft"/>
    <glob pattern="*.toml" weight="40"/>
    <magic priority="80">
      <match type="string" offset="0" value="format = &quot;rampdraft design&quot;"/>
    </magic>
  </mime-type>
</mime-info>
"""

_REFRESH: Final = (("update-desktop-database", "applications"), ("update-mime-database", "mime"))
"""What tells a desktop of the change, where it is there, and which folder it is told of."""


def put_in(folder: Path) -> tuple[Path, ...]:
    """Write the entry, the icon and the file type below a folder of shared data, and return their paths.

    Raises FileError where one cannot be written.
    """
    command = shlex.join([sys.executable, "-m", "rampdraft"])
    contents = (
        ENTRY.format(command=_escaped(command), mime=MIME).encode(),
        icon_path().read_bytes(),
        TYPE.format(mime=MIME).encode(),
    )
    paths = _paths(folder)
    for path, content in zip(paths, contents, strict=True):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    _refresh(folder)
    return paths


def take_out(folder: Path) -> tuple[Path, ...]:
    """Remove what `put_in` wrote, and return the paths of what was there."""
    there = tuple(path for path in _paths(folder) if path.is_file())
    for path in there:
        path.unlink()
    _refresh(folder)
    return there


def shared_data() -> Path:
    """Return the folder of the user's shared data."""
    named = os.environ.get("XDG_DATA_HOME", "")
    return Path(named) if Path(named).is_absolute() else Path.home() / ".local" / "share"


def _paths(folder: Path) -> tuple[Path, ...]:
    return (
        folder / "applications" / "rampdraft.desktop",
        folder / "icons" / "hicolor" / "scalable" / "apps" / "rampdraft.svg",
        folder / "mime" / "packages" / "rampdraft.xml",
    )


def _escaped(command: str) -> str:
    """Return a command for the key Exec, where a per cent sign begins a field code."""
    return command.replace("%", "%%")


def _refresh(folder: Path) -> None:
    for program, below in _REFRESH:
        found = shutil.which(program)
        if found is not None and (folder / below).is_dir():
            subprocess.run([found, str(folder / below)], check=False, capture_output=True)
