"""Dialogs and faults: what is said, without anybody to answer."""

import logging
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QMessageBox, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from rampdraft.app.shell.dialogs import Answer, Dialogs
from rampdraft.app.shell.failures import Failures
from rampdraft.errors import Problem
from rampdraft.files import log


def test_a_fault_in_a_slot_is_told_and_logged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    monkeypatch.setattr(log, "log_file", lambda: tmp_path / "log" / "rampdraft.log")
    told: list[tuple[str, str]] = []
    catcher = Failures(lambda message, details: told.append((message, details)))
    catcher.install()
    try:
        QTimer.singleShot(0, _fail)
        qtbot.waitUntil(lambda: bool(told))
    finally:
        catcher.remove()
    assert "The design is as it was" in told[0][0]
    assert "on purpose" in told[0][1]
    assert "on purpose" in (tmp_path / "log" / "rampdraft.log").read_text(encoding="utf-8")
    assert not logging.getLogger("rampdraft").handlers


def _fail() -> None:
    raise ZeroDivisionError("on purpose")


def test_problems_are_listed_in_a_box_that_scrolls(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[str] = []

    def answer(dialog: QDialog) -> int:
        shown.extend(label.text() for label in dialog.findChildren(QLabel))
        shown.extend(box.toPlainText() for box in dialog.findChildren(QPlainTextEdit))
        return QDialog.DialogCode.Accepted

    monkeypatch.setattr(QDialog, "exec", answer)
    parent = QWidget()
    dialogs = Dialogs(parent)
    dialogs.problems(
        "Title", "What is wrong", (Problem(key="sites[1].name", value="", rule="is missing", line=3),)
    )
    assert shown == ["What is wrong", "line 3: sites[1].name: is missing"]
    assert dialogs.failure("A fault", "details")
    parent.deleteLater()


def test_going_back_is_what_esc_means(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> None:
    parent = QWidget()
    for name, answer in (("Save", Answer.SAVE), ("Do not save", Answer.DISCARD), ("Go back", Answer.CANCEL)):

        def press(box: QMessageBox, name: str = name) -> int:
            assert box.escapeButton().text() == "Go back"
            next(button for button in box.buttons() if button.text() == name).click()
            return 0

        monkeypatch.setattr(QMessageBox, "exec", press)
        assert Dialogs(parent).unsaved("New ramp") is answer
    parent.deleteLater()
