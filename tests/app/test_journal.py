"""Work that is in no file survives whatever ends the program, and is offered at the next start."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot
from stand_in import answers

from rampdraft.app.shell import journal
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.dialogs import Answer
from rampdraft.app.shell.journal import Journal
from rampdraft.errors import FileError
from rampdraft.files.design_file import load_design, save_design
from rampdraft.files.journal import Note, drop_note, keep_note, read_note
from rampdraft.model.fields.paths import value_at, with_value
from rampdraft.model.starter import starter_design

ROOT = Path(__file__).parent.parent.parent
LENGTH, KERF = "inner_leaf.length_mm", "workshop.kerf_mm"


def notes() -> list[Path]:
    return sorted(journal.folder().glob("*.journal"))


def noted(desk: Desk, qtbot: QtBot) -> Note:
    qtbot.waitUntil(desk.journal.file.exists)
    return read_note(desk.journal.file)


def test_an_edit_is_noted_soon_and_the_note_goes_with_what_is_lost(
    desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    assert journal.SOON_MS <= 1500
    assert notes() == []
    desk.document.edit(KERF, 4.25, "Change")
    note = noted(desk, qtbot)
    assert note.design == desk.document.design
    assert note.path is None
    desk.document.undo_stack.undo()
    qtbot.waitUntil(lambda: notes() == [])
    desk.document.edit(KERF, 4.5, "Change")
    assert noted(desk, qtbot).design.workshop.kerf_mm == 4.5
    answers(desk).save_path = tmp_path / "ramp.toml"
    assert desk.filing.save()
    qtbot.waitUntil(lambda: notes() == [])
    desk.document.edit(KERF, 4.75, "Change")
    assert noted(desk, qtbot).path == tmp_path / "ramp.toml"
    answers(desk).leave = Answer.DISCARD
    assert desk.clear()
    assert list(journal.folder().iterdir()) == []


def test_what_is_only_tried_is_not_noted(desk: Desk, qtbot: QtBot) -> None:
    desk.document.edit(KERF, 4.25, "Change")
    decided = desk.document.design
    desk.document.preview(with_value(decided, KERF, 9.0))
    desk.journal.now()
    assert read_note(desk.journal.file).design == decided
    desk.document.give_back()


def test_a_half_typed_text_is_a_change_that_undo_takes_away(desk: Desk, qtbot: QtBot) -> None:
    editor = desk.form.field(LENGTH).editor.widget
    assert isinstance(editor, QLineEdit)
    before, was = desk.document.design, editor.text()
    for text in ("12 parrots", "13 parrots"):
        editor.setFocus()
        editor.setText(text)
        editor.textEdited.emit(text)
        editor.editingFinished.emit()
    assert desk.document.modified
    assert desk.window.isWindowModified()
    assert noted(desk, qtbot).unread[0][:2] == (LENGTH, "13 parrots")
    assert "13 parrots" in desk.document.undo_stack.undoText()
    desk.document.undo_stack.undo()
    assert (desk.document.design, editor.text()) == (before, was)
    assert not desk.document.modified
    assert desk.document.problems == ()


def test_a_refused_text_that_gets_a_value_is_one_edit(desk: Desk) -> None:
    before = value_at(desk.document.design, LENGTH)
    desk.document.refuse(LENGTH, "parrots", "is no number")
    desk.document.edit(LENGTH, before + 10, "Change")
    assert desk.document.undo_stack.count() == 1
    desk.document.undo_stack.undo()
    assert value_at(desk.document.design, LENGTH) == before
    desk.document.refuse(LENGTH, "parrots", "is no number")
    desk.document.restore(LENGTH)
    assert not desk.document.modified


def lose(tmp_path: Path, **more: object) -> tuple[Path, Note]:
    """Leave a note as a program that was killed leaves it."""
    design = starter_design()
    path = tmp_path / "ramp.toml"
    text = save_design(design, path)
    note = Note(
        design=with_value(design, KERF, 5.5), path=path, folder=tmp_path, text=text, when="in May", **more
    )
    file = journal.folder() / "1-0.journal"
    keep_note(file, note)
    assert read_note(file) == note
    return file, note


def test_what_was_lost_is_offered_with_what_differs_and_taken_back(desk: Desk, tmp_path: Path) -> None:
    file, note = lose(tmp_path, unread=((LENGTH, "12 parrots", "is no number"),))
    assert desk.recovery.offer()
    told = [one.accessibleName() for one in desk.notice.buttons]
    assert told[0] == "Take it back: “ramp.toml”, in May: " + told[0].partition("May: ")[2]
    assert "→ 5.5 mm" in told[0]
    assert "half typed: 12 parrots" in told[0]
    desk.notice.buttons[0].click()
    document = desk.document
    assert (document.design, document.path, document.text) == (note.design, note.path, note.text)
    assert document.modified
    assert LENGTH in document.unread
    assert not file.exists()
    assert desk.notice.words == ""
    assert read_note(desk.journal.file).design == note.design, "noted again at once"
    assert desk.filing.save()
    assert load_design(note.path) == note.design


def test_what_was_lost_is_thrown_away_or_waits(desk: Desk, tmp_path: Path) -> None:
    file, _ = lose(tmp_path)
    assert desk.recovery.offer()
    desk.recovery.end()
    assert file.exists(), "not decided on"
    assert desk.recovery.offer()
    desk.notice.buttons[1].click()
    assert not file.exists()
    assert not desk.recovery.offer()


def test_the_note_of_a_window_that_runs_is_not_offered(desk: Desk) -> None:
    desk.document.edit(KERF, 4.25, "Change")
    desk.journal.now()
    other = Journal(desk)
    assert not desk.recovery.offer()
    other.end()


@pytest.mark.parametrize(
    "text", ["", "{}", "[]", "3", '{"format": "rampdraft journal", "version": 2}', "{" * 5000]
)
def test_a_note_that_cannot_be_read_is_told_and_stays(desk: Desk, text: str) -> None:
    journal.folder().mkdir(parents=True)
    file = journal.folder() / "1-0.journal"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(FileError, match=r"1-0\.journal"):
        read_note(file)
    assert not desk.recovery.offer()
    assert file.exists()
    drop_note(file)


def started(tmp_path: Path, edits: str) -> subprocess.Popen[str]:
    """Start the program with its window, carry out what is said, and return it when that is done."""
    code = f"""
import sys
from PySide6.QtCore import QSettings, QTimer
QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, {str(tmp_path / "settings")!r})
from rampdraft.app.shell import main, window
from rampdraft.app.shell.window import Window
furnish = Window.furnish
def furnished(window):
    desk = furnish(window)
    def work():
        {edits}
        print("ready", flush=True)
    QTimer.singleShot(0, work)
    return desk
Window.furnish = furnished
sys.exit(main.run(None))
"""
    environment = os.environ | {"PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}
    process = subprocess.Popen(
        [sys.executable, "-c", code], env=environment, stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    return process


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP])
def test_work_survives_a_signal(desk: Desk, qtbot: QtBot, tmp_path: Path, number: signal.Signals) -> None:
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path / "settings"))
    process = started(tmp_path, f"desk.document.edit({KERF!r}, 5.25, 'Change')")
    if number == signal.SIGKILL:
        qtbot.waitUntil(lambda: bool(notes()))
    process.send_signal(number)
    assert process.wait(timeout=30) == (-number if number == signal.SIGKILL else 128 + number)
    (file,) = notes()
    assert read_note(file).design.workshop.kerf_mm == 5.25
    qtbot.waitUntil(desk.recovery.offer)
    desk.notice.buttons[0].click()
    assert value_at(desk.document.design, KERF) == 5.25


@pytest.mark.skipif(os.name != "posix", reason="signals of POSIX")
def test_an_interrupt_closes_as_quit_does(tmp_path: Path) -> None:
    process = started(tmp_path, "pass")
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=30) == 0
    assert not list((tmp_path / "settings").rglob("*.journal"))
    assert list((tmp_path / "settings").rglob("*.ini")), "the layout was remembered"
