"""Whether a window can be opened here, asked before Qt is loaded: it ends the whole program when it
cannot.
"""

import ctypes
import os
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from rampdraft.words.say import say

DEBIAN_PACKAGES: Final = (
    "libgl1 libegl1 libglib2.0-0 libxkbcommon0 libfontconfig1 libdbus-1-3 "
    "libxkbcommon-x11-0 libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-shape0 libwayland-cursor0"
)
"""What a bare Debian 12 lacks for a window; the first six are enough without a screen (tests/run.sh)."""

_UNSEEN: Final = ("offscreen", "minimal", "minimalegl")
"""Platforms of Qt that draw and show nobody."""


def screen_problem() -> str:
    """Return in plain words why no window can be opened here, or nothing when it can."""
    asked = _asked()
    if asked and not _there(asked):
        named, ours = os.environ["QT_QPA_PLATFORM"], ", ".join(sorted(_platforms()))
        return f"QT_QPA_PLATFORM={named} names no way to a screen that Qt has here; it has: {ours}"
    if not sys.platform.startswith("linux"):
        return ""
    problems = [_problem_of(name) for name in asked or _screens_there()]
    if not problems:
        return "there is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set)"
    return "" if "" in problems else problems[0]


def shows_nothing() -> str:
    """Return in plain words why nobody would see a window that is opened here, or nothing."""
    asked = _asked()
    if asked and all(name in _UNSEEN for name in asked):
        return f"QT_QPA_PLATFORM={os.environ['QT_QPA_PLATFORM']} shows nothing"
    return ""


def _asked() -> tuple[str, ...]:
    """Return the platforms that QT_QPA_PLATFORM asks for, in their order: `xcb`, `wayland`, `offscreen`."""
    names = os.environ.get("QT_QPA_PLATFORM", "").split(";")
    return tuple(name.partition(":")[0].strip().lower() for name in names if name.strip())


def _platforms() -> frozenset[str]:
    """Return the platforms of the Qt that is installed; none where they lie elsewhere."""
    if os.environ.get("QT_QPA_PLATFORM_PLUGIN_PATH") or os.environ.get("QT_PLUGIN_PATH"):
        return frozenset()
    folders = (folder / "plugins" / "platforms" for folder in _qt_folders())
    files = (file for folder in folders if folder.is_dir() for file in folder.iterdir())
    return frozenset(file.name.partition(".")[0].removeprefix("lib").removeprefix("q") for file in files)


def _there(asked: tuple[str, ...]) -> bool:
    """Return whether Qt has one of the platforms; a plugin brings further ones, named after it, as
    `wayland-egl`.
    """
    ours = _platforms()
    return not ours or any(name.startswith(one) for name in asked for one in ours)


def _screens_there() -> tuple[str, ...]:
    named = (("xcb", "DISPLAY"), ("wayland", "WAYLAND_DISPLAY"))
    return tuple(name for name, variable in named if os.environ.get(variable))


def _problem_of(name: str) -> str:
    """Return why a platform of Linux shows no window, or nothing."""
    if name == "xcb":
        screen = f"DISPLAY={os.environ.get('DISPLAY', '')}"
        return _lacking_library("libqxcb.so") or ("" if _x11_answers() else _silent(screen))
    if name.startswith("wayland"):
        screen = os.environ.get("WAYLAND_DISPLAY") or "wayland-0"
        silent = _silent(f"WAYLAND_DISPLAY={screen}")
        return _lacking_library("libqwayland.so") or ("" if _wayland_there(screen) else silent)
    return _lacking_library("")


def _silent(screen: str) -> str:
    return say("the screen named by {screen} does not answer", screen=screen)


def _qt_folders() -> tuple[Path, ...]:
    """Return where the installed package may keep Qt, by system; none where it is not installed."""
    spec = find_spec("PySide6")
    if spec is None or not spec.submodule_search_locations:
        return ()
    package = Path(next(iter(spec.submodule_search_locations)))
    return package / "Qt", package


def _lacking_library(plugin: str) -> str:
    """Return in words what Qt's widgets or the platform plugin miss to be loaded, or nothing."""
    folders = _qt_folders()
    if not folders:
        return say("the Python package PySide6-Essentials is not installed")
    qt = folders[0]
    wanted = [qt / "lib" / "libQt6Widgets.so.6", *([qt / "plugins" / "platforms" / plugin] if plugin else [])]
    for library in wanted:
        # A distribution's own Qt lies elsewhere and brings its libraries with it.
        if library.exists():
            try:
                ctypes.CDLL(str(library))
            except OSError as error:
                return say(
                    "Qt lacks a system library: {error}. On Debian or Ubuntu this brings all"
                    " that it needs:\n  apt-get install --no-install-recommends"
                    " {debian_packages}",
                    error=error,
                    debian_packages=DEBIAN_PACKAGES,
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
