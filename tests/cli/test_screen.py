"""Whether a window can be opened is told in words, before Qt ends the program."""

import ctypes
import sys
from pathlib import Path

import pytest

from rampdraft.cli import screen

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="only X11 and Wayland need asking"
)


@pytest.fixture(autouse=True)
def no_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)


def test_no_screen_at_all() -> None:
    assert "neither DISPLAY nor WAYLAND_DISPLAY" in screen.screen_problem()


def test_a_platform_asked_for_by_name_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    assert screen.screen_problem() == ""


def test_a_missing_library_is_named_with_what_brings_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(path: str) -> None:
        raise OSError("libEGL.so.1: cannot open shared object file: No such file or directory")

    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(ctypes, "CDLL", missing)
    problem = screen.screen_problem()
    assert "libEGL.so.1" in problem
    assert "apt-get install" in problem
    assert "libegl1" in problem


def test_a_screen_that_does_not_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":987")
    assert not screen._x11_answers()
    monkeypatch.setattr(screen, "_lacking_library", lambda plugin: "")
    assert screen.screen_problem() == "the screen named by DISPLAY=:987 does not answer"


def test_one_screen_that_answers_is_enough(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(screen, "_lacking_library", lambda plugin: "")
    monkeypatch.setenv("DISPLAY", ":987")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    assert "DISPLAY=:987 does not answer" in screen.screen_problem()
    (tmp_path / "wayland-0").touch()
    assert screen.screen_problem() == ""
    monkeypatch.delenv("DISPLAY")
    (tmp_path / "wayland-0").unlink()
    assert "WAYLAND_DISPLAY=wayland-0 does not answer" in screen.screen_problem()


def test_a_missing_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(screen, "find_spec", lambda name: None)
    assert "PySide6-Essentials is not installed" in screen.screen_problem()


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("nosuch", "QT_QPA_PLATFORM=nosuch names no way to a screen"),
        ("nosuch;neither:size=1x1", "names no way to a screen"),
        ("nosuch;offscreen", ""),
        ("OFFSCREEN:size=800x600", ""),
        ("xcb", "does not answer"),
        ("wayland-egl", "does not answer"),
    ],
)
def test_a_platform_is_looked_for_before_qt_ends_the_program(
    monkeypatch: pytest.MonkeyPatch, asked: str, told: str
) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", asked)
    monkeypatch.setattr(screen, "_lacking_library", lambda plugin: "")
    found = screen.screen_problem()
    assert told in found
    assert bool(told) == bool(found)


@pytest.mark.parametrize(
    ("asked", "seen"),
    [("offscreen", False), ("minimal:x", False), ("xcb", True), ("xcb;offscreen", True), ("", True)],
)
def test_what_shows_nothing_is_no_screen_for_the_demo(
    monkeypatch: pytest.MonkeyPatch, asked: str, seen: bool
) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", asked)
    assert (screen.shows_nothing() == "") is seen
