"""Windows under test: isolated settings, no dialog that waits for anybody, and nothing left behind."""

import sys
import threading
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from types import TracebackType
from typing import Final

import pytest
from PySide6.QtCore import QEvent, QLocale, QSettings, QStandardPaths, QTimer
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from stand_in import StandIn

from rampdraft.app.answers import Answers
from rampdraft.app.judging import Judging
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.main import application
from rampdraft.app.shell.window import Window
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.model.design import Design
from rampdraft.model.starter import starter_design

PATIENCE_MS = 60_000
"""So long a test waits for what comes in any case: how soon it comes is the machine's business."""


@pytest.fixture
def qtbot(qtbot: QtBot) -> QtBot:
    """Wait with more patience than pytest-qt's five seconds."""
    qtbot.waitUntil = partial(qtbot.waitUntil, timeout=PATIENCE_MS)
    qtbot.waitSignal = partial(qtbot.waitSignal, timeout=PATIENCE_MS)
    return qtbot


@pytest.fixture(scope="session")
def qapp() -> QApplication:
    QStandardPaths.setTestModeEnabled(True)
    QLocale.setDefault(QLocale.c())
    return application()


_LOOKED_AT: Final = (
    "test_access", "test_arranging", "test_first_ramp", "test_language", "test_leading_steps", "test_looks",
    "test_pictures", "test_start", "test_tour", "test_window",
)  # fmt: skip
"""Files of tests in which it matters how the window looks."""


@pytest.fixture(scope="module", autouse=True)
def dressed(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[None]:
    """Leave the sheet of styles out elsewhere: with it a window takes half as long again to open."""
    sheet = qapp.styleSheet()
    if request.path.stem not in _LOOKED_AT:
        qapp.setStyleSheet("")
    yield
    qapp.setStyleSheet(sheet)


@pytest.fixture(autouse=True)
def alone(qapp: QApplication, tmp_path: Path) -> Iterator[None]:
    """Fail a test that lets an exception through a slot, or leaves a window, a timer or a thread behind."""
    for kind in (QSettings.Format.IniFormat, QSettings.Format.NativeFormat):
        QSettings.setPath(kind, QSettings.Scope.UserScope, str(tmp_path / "settings"))
    caught: list[BaseException] = []
    before, threads = sys.excepthook, set(threading.enumerate())

    def hook(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        caught.append(fault)

    sys.excepthook = hook
    yield
    qapp.processEvents()
    sys.excepthook = before
    assert not caught, caught
    assert not [widget for widget in qapp.topLevelWidgets() if widget.isVisible()]
    assert not [timer for timer in qapp.findChildren(QTimer) if timer.isActive()]
    assert set(threading.enumerate()) <= threads


_BEGUN_WITH: dict[Design, Evaluation] = {}


def whole(evaluation: Evaluation) -> Evaluation:
    """Return an evaluation completed: of the ramp that every test begins with it is worked out once."""
    if evaluation.design != starter_design():
        return evaluation.complete()
    if evaluation.design not in _BEGUN_WITH:
        _BEGUN_WITH[evaluation.design] = evaluate(evaluation.design).complete()
    return evaluation.take(_BEGUN_WITH[evaluation.design])


@pytest.fixture
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the checks stand as soon as the design has changed, and all else be answered by threads, which
    stand ready: for tests of what is done with the answers. Processes are tested in `test_judging.py`.
    """
    line = Answers.line
    monkeypatch.setattr(Answers, "line", lambda answers, kind, crew=None: line(answers, kind))

    def complete(judging: Judging) -> None:
        evaluation = judging._document.evaluation
        if evaluation is None or evaluation is judging._document.judged:
            return
        try:
            judging._document.judge(whole(evaluation))
        except Exception as fault:  # told as one that happened elsewhere is
            judging._document.fail(fault)

    monkeypatch.setattr(Judging, "_follow", complete)


@pytest.fixture
def desk(alone: None, qapp: QApplication, at_once: None) -> Iterator[Desk]:
    window = Window()
    window.resize(1200, 800)
    window.show()
    desk = window.furnish()
    desk.dialogs = StandIn(window)
    desk.step_work.take("")
    desk.filing.begin()
    qapp.processEvents()
    yield desk
    window.close_unasked()
    assert window.desk is not None  # another one where a test has chosen a language
    assert not window.desk.side.fold_bar.playing
    window.deleteLater()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)  # as the event loop would
    qapp.processEvents()
