"""Whether a window can be opened here, asked before Qt is loaded: it ends the whole program when it
cannot.
"""

import ctypes
import os
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Final

DEBIAN_PACKAGES: Final = (
    "libgl1 libegl1 libglib2.0-0 libxkbcommon0 libfontconfig1 libdbus-1-3 "
    "libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-shape0 libwayland-cursor0"
)
"""What a bare Debian 12 lacks for a window; the first six are enough without a screen (tests/run.sh)."""


def screen_problem() -> str:
    """Return in plain words why no window can be opened here, or nothing when it can."""
    if not sys.platform.startswith("linux"):
        return ""
    if os.environ.get("QT_QPA_PLATFORM"):
        return _lacking_library("")
    x11, wayland = os.environ.get("DISPLAY"), os.environ.get("WAYLAND_DISPLAY")
    problems: list[str] = []
    if x11:
        problems.append(
            _lacking_library("libqxcb.so") or ("" if _x11_answers() else _silent(f"DISPLAY={x11}"))
        )
    if wayland:
        problems.append(
            _lacking_library("libqwayland.so")
            or ("" if _wayland_there(wayland) else _silent(f"WAYLAND_DISPLAY={wayland}"))
        )
    if not problems:
        return "there is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set)"
    return "" if "" in problems else problems[0]


def _silent(screen: str) -> str:
    return f"the screen named by {screen} does not answer"


def _lacking_library(plugin: str) -> str:
    """Return in words what Qt's widgets or the platform plugin miss to be loaded, or nothing."""
    spec = find_spec("PySide6")
    if spec is None or not spec.submodule_search_locations:
        return "the Python package PySide6-Essentials is not installed"
    qt = Path(next(iter(spec.submodule_search_locations))) / "Qt"
    wanted = [qt / "lib" / "libQt6Widgets.so.6", *([qt / "plugins" / "platforms" / plugin] if plugin else [])]
    for library in wanted:
        # A distribution's own Qt lies elsewhere and brings its libraries with it.
        if library.exists():
            try:
                ctypes.CDLL(str(library))
            except OSError as error:
                return (
                    f"Qt lacks a system library: {error}. On Debian or Ubuntu this brings all that it"
                    f" needs:\n  apt-get install --no-install-recommends {DEBIAN_PACKAGES}"
                )
    return ""


def _x11_answers() -> bool:
    xcb = ctypes.CDLL("libxcb.so.1")
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(None, None))
    answers = xcb.xcb_connection_has_error(connection) == 0
    xcb.xcb_disconnect(connection)
    return answers


def _wayland_there(name: str) -> bool:
    return Path(os.environ.get("XDG_RUNTIME_DIR", "/"), name).exists()
