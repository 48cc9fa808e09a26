"""The entry in the menu of a Linux desktop, by the open standards of freedesktop.org."""

import configparser
import shlex
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from rampdraft.cli.main import run
from rampdraft.cli.menu_entry import MIME, put_in, shared_data, take_out
from rampdraft.files.samples import sample_paths

NAME = {"m": "http://www.freedesktop.org/standards/shared-mime-info"}


def no_window(_: Path | None) -> int:
    raise AssertionError("no window was asked for")


def test_the_entry_has_the_keys_that_the_standard_requires(tmp_path: Path) -> None:
    """Desktop Entry Specification 1.5: Type, Name and, of an application, Exec."""
    entry, icon, _ = put_in(tmp_path)
    read = configparser.RawConfigParser()
    read.optionxform = str  # pyright: ignore[reportAttributeAccessIssue]
    read.read(entry, encoding="utf-8")
    keys = dict(read["Desktop Entry"])
    assert (keys["Type"], keys["Name"]) == ("Application", "Rampdraft")
    command = shlex.split(keys["Exec"].replace("%%", "%"))
    assert command == [sys.executable, "-m", "rampdraft", "%f"]
    assert keys["MimeType"] == f"{MIME};"
    assert keys["Categories"].endswith(";")
    assert keys["Icon"] == icon.stem
    assert ET.parse(icon).getroot().tag.endswith("svg")


def test_a_design_is_known_by_its_first_line(tmp_path: Path) -> None:
    """Shared MIME-info Database 0.21: a match of type string at an offset."""
    *_, kind = put_in(tmp_path)
    root = ET.parse(kind).getroot()
    match = root.find("m:mime-type/m:magic/m:match", NAME)
    assert match is not None
    for path in sample_paths():
        text = path.read_text(encoding="utf-8")
        assert text[int(match.get("offset", "1")) :].startswith(match.get("value", "?"))
    assert [one.get("type") for one in root] == [MIME]


def test_what_was_put_in_is_taken_out_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert shared_data() == tmp_path
    assert run(["desktop"], no_window) == 0
    told = capsys.readouterr().out
    for name in ("applications/rampdraft.desktop", "mime/packages/rampdraft.xml"):
        assert (tmp_path / name).is_file()
        assert f"Written: {tmp_path / name}" in told
    assert run(["desktop", "--remove"], no_window) == 0
    assert not list(tmp_path.rglob("rampdraft.*"))
    assert take_out(tmp_path) == ()


def test_a_folder_that_is_not_whole_is_not_taken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification 0.8: a relative path is invalid and must be ignored."""
    monkeypatch.setenv("XDG_DATA_HOME", "somewhere")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert shared_data() == tmp_path / ".local" / "share"


def test_a_folder_that_cannot_be_written_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "applications").write_text("a file")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert run(["desktop"], no_window) == 2
    assert "applications" in capsys.readouterr().err
