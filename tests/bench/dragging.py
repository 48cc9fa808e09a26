"""A drag of the inner leaf's length on the side view of an open window: from the mouse's event to the last
widget painted, and from the last event to the end of all that follows.
"""

import os
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

from rampdraft.evaluation.evaluate import Evaluation

MOVES: int = 240
GRIP = "inner_leaf.length_mm"


def dragging(
    sample: tuple[Path, Evaluation], calibrated: Callable[[float], str], beside: Callable[[], float] | None
) -> Iterator[str]:
    """Yield the figures; `beside` returns the seconds that an evaluation takes that all is compared with."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtCore import QEvent, QPointF, QSettings, Qt
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication, QWidget

    from rampdraft.app.shell.main import application
    from rampdraft.app.shell.window import Window

    path, found = sample

    def send(widget: QWidget, kind: QEvent.Type, at: QPointF) -> None:
        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        place = QPointF(widget.mapFromParent(at.toPoint()))
        changed = none if kind == QEvent.Type.MouseMove else left
        held = none if kind == QEvent.Type.MouseButtonRelease else left
        event = QMouseEvent(
            kind, place, QPointF(widget.mapToGlobal(place)), changed, held, Qt.KeyboardModifier(0)
        )
        QApplication.sendEvent(widget, event)

    with tempfile.TemporaryDirectory() as home:
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, home)
        app, window = application(), Window()
        window.resize(1400, 900)
        window.show()
        desk = window.furnish()
        desk.document.open(found.design, None, path.parent)
        app.processEvents()
        canvas, document = desk.side.hand.canvas, desk.document
        knob = canvas.knobs[GRIP]
        start = QPointF(knob.geometry().center())
        send(knob, QEvent.Type.MouseButtonPress, start)
        walls: list[float] = []
        processor: list[float] = []
        bases = [beside() for _ in range(21)] if beside is not None else []
        for number in range(MOVES):
            at = start + QPointF(4 + number % 40, 0)
            wall, took = time.perf_counter(), time.thread_time()
            send(knob, QEvent.Type.MouseMove, at)
            app.processEvents()
            walls.append(time.perf_counter() - wall)
            processor.append(time.thread_time() - took)
        rest = _rest(app.processEvents, lambda: document.whole)
        send(knob, QEvent.Type.MouseButtonRelease, start)
        document.undo_stack.undo()
        window.close_unasked()
        bases += [beside() for _ in range(20)] if beside is not None else []
    told = f"{calibrated(median(processor))}, median of {MOVES}"
    yield f"drag of a leaf of {path.stem}, mouse to painted: {told}"
    yield _figures("processor", processor, bases)
    yield _figures("clock", walls, bases)
    busy = median(walls) / median(processor)
    yield (
        f"drag of a leaf: everything else {rest * 1e3:.0f} ms after the last move, while the clock runs"
        f" {busy:.1f} times as fast as the processor works here"
    )


def _figures(name: str, took: list[float], bases: list[float]) -> str:
    middle, most = median(took), sorted(took)[int(0.99 * len(took))]
    line = f"drag of a leaf, {name}: median {middle * 1e3:.1f} ms, 99 in 100 within {most * 1e3:.1f} ms"
    if not bases:
        return line
    scale = 28e-3 / median(bases)
    return (
        f"{line}; where the evaluation compared with takes 28 ms (here {median(bases) * 1e3:.1f}):"
        f" {middle * scale * 1e3:.1f} ms and {most * scale * 1e3:.1f} ms"
    )


def _rest(process: Callable[[], None], done: Callable[[], bool]) -> float:
    """Return the seconds until all is done."""
    start = time.perf_counter()
    while not done():
        process()
    process()
    return time.perf_counter() - start
