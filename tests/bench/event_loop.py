"""How long the window does not listen: `python tests/bench/event_loop.py [NAME ...]` does by itself what
people do, on the largest sample, and prints for each a histogram of the blocks of the event loop, the longest
of them, and the time from an edit to its painting and to its checks. It fails on nothing.

A block is the time between two beats of a timer that is due all the time: whatever holds the event loop, or
the lock of the interpreter, makes the next beat late. On a machine that has other work besides, what counts
is told too: the processor's time of the window's own thread in each block.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parent.parent.parent
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program has it
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "app")]

from PySide6.QtCore import QEvent, QObject, QSettings, QStandardPaths, Qt, QTimer  # noqa: E402
from PySide6.QtTest import QTest  # noqa: E402
from PySide6.QtWidgets import QLineEdit, QWidget  # noqa: E402
from stand_in import StandIn  # noqa: E402

from rampdraft.app.shell.desk import Desk  # noqa: E402
from rampdraft.app.shell.main import application  # noqa: E402
from rampdraft.app.shell.window import Window  # noqa: E402
from rampdraft.files.samples import sample_paths  # noqa: E402

BOUNDS_MS = (5, 10, 20, 35, 50, 75, 100, 150, 250, 500, 1000)
EDITS = 20


class Beats(QObject):
    """Counts how long each turn of the event loop takes."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks_ms: list[float] = []
        self.own_ms: list[float] = []
        self._last = self._own = 0.0
        self._timer = QTimer(self, interval=0, timerType=Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._beat)

    def begin(self) -> None:
        self.blocks_ms, self.own_ms = [], []
        self._last, self._own = time.perf_counter(), time.thread_time()
        self._timer.start()

    def end(self) -> None:
        self._timer.stop()

    def _beat(self) -> None:
        now, own = time.perf_counter(), time.thread_time()
        self.blocks_ms.append((now - self._last) * 1e3)
        self.own_ms.append((own - self._own) * 1e3)
        self._last, self._own = now, own


class Paints(QObject):
    """Tells when a widget was painted last."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self.at = 0.0
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802  Qt names it
        if event.type() == QEvent.Type.Paint:
            self.at = time.perf_counter()
        return False


class Bench:
    """A window with the largest sample, as people have it."""

    def __init__(self, folder: Path) -> None:
        QStandardPaths.setTestModeEnabled(True)
        QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(folder))
        QSettings.setPath(QSettings.Format.NativeFormat, QSettings.Scope.UserScope, str(folder))
        self.app, self.folder = application(), folder
        window = Window()
        window.resize(1400, 900)
        window.show()
        self.desk: Desk = window.furnish()
        self.desk.dialogs = StandIn(window)
        self.desk.filing.begin()
        self.beats = Beats()
        self.sample = next(path for path in sample_paths() if path.stem == "library-trailer")
        self.open()

    def open(self) -> None:
        self.desk.document.give_up()
        self.desk.filing.load(self.sample, keep=False)
        self.rest()

    def wait(self, until: Callable[[], bool], at_most_s: float = 60.0) -> float:
        start = time.perf_counter()
        while not until() and time.perf_counter() - start < at_most_s:
            self.app.processEvents()
        return (time.perf_counter() - start) * 1e3

    def idle(self, seconds: float) -> None:
        end = time.perf_counter() + seconds
        self.wait(lambda: time.perf_counter() >= end)

    def checks_stand(self) -> bool:
        return self.desk.document.whole

    def rest(self) -> None:
        """Wait until nothing is under way."""
        self.idle(0.4)
        lines = self.desk.answers._lines.values()
        self.wait(lambda: self.checks_stand() and all(line.asked is None for line in lines))
        self.idle(0.1)

    def measure(self, name: str, work: Callable[[], str | None]) -> None:
        self.beats.begin()
        told = work()
        self.beats.end()
        tell(name, self.beats.blocks_ms, self.beats.own_ms)
        if told:
            print(f"    {told}")
        sys.stdout.flush()


def tell(name: str, blocks: list[float], own: list[float]) -> None:
    print(f"{name}: longest block {max(blocks):.0f} ms; {histogram(blocks)}")
    print(f"    processor's time: longest block {max(own):.0f} ms; {histogram(own)}")


def histogram(blocks: list[float]) -> str:
    counts, low = [], 0
    for high in (*BOUNDS_MS, None):
        count = sum(low <= block < (high or 1e9) for block in blocks)
        if count:
            counts.append(f"{low}-{high} ms: {count}" if high else f"{low} ms or more: {count}")
        low = high or low
    return ", ".join(counts)


def times(found: list[float]) -> str:
    return f"median {median(found):.0f} ms, worst {max(found):.0f} ms of {len(found)}"


def typing(bench: Bench, view: QWidget) -> str:
    """Type another length of the inner leaf, as people do: key by key, then Enter."""
    desk = bench.desk
    desk.views.setCurrentWidget(view)
    bench.rest()
    desk.form.reveal("inner_leaf.length_mm")
    field = bench.app.focusWidget()
    assert isinstance(field, QLineEdit), field
    canvas = getattr(view, "canvas", view)
    paints, painted, judged, own = Paints(canvas), [], [], []
    first = desk.document.design.inner_leaf.length_mm
    for number in range(EDITS):
        field.selectAll()
        QTest.keyClicks(field, f"{first - 5 + number % 10:.0f}")
        bench.idle(0.05)
        start, began = time.perf_counter(), time.thread_time()
        QTest.keyClick(field, Qt.Key.Key_Return)
        bench.wait(lambda start=start: paints.at > start, 5)
        painted.append((time.perf_counter() - start) * 1e3)
        own.append((time.thread_time() - began) * 1e3)
        bench.wait(bench.checks_stand)
        judged.append((time.perf_counter() - start) * 1e3)
        bench.idle(0.1)
    canvas.removeEventFilter(paints)
    return (
        f"Enter to painted: {times(painted)} (processor's time {times(own)}); to its checks: {times(judged)}"
    )


def dragging(bench: Bench, view: QWidget) -> str:
    """Drag the length of the inner leaf: an edit at each frame for two seconds."""
    from rampdraft.model.fields.paths import with_value

    desk = bench.desk
    desk.views.setCurrentWidget(view)
    bench.rest()
    before = desk.document.design
    length = before.inner_leaf.length_mm
    canvas = getattr(view, "canvas", view)
    paints, painted, own = Paints(canvas), [], []
    end, number = time.perf_counter() + 2, 0
    while time.perf_counter() < end:
        number += 1
        start, began = time.perf_counter(), time.thread_time()
        desk.document.preview(with_value(before, "inner_leaf.length_mm", length - number % 60 / 4))
        bench.wait(lambda start=start: paints.at > start, 1)
        painted.append((time.perf_counter() - start) * 1e3)
        own.append((time.thread_time() - began) * 1e3)
        bench.idle(max(0.0, 1 / 60 - (time.perf_counter() - start)))
    desk.document.give_back()
    canvas.removeEventFilter(paints)
    bench.wait(bench.checks_stand)
    return f"move to painted: {times(painted)} (processor's time {times(own)})"


def main(wanted: list[str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder))
        desk = bench.desk
        views = {desk.views.tabText(at): desk.views.widget(at) for at in range(desk.views.count())}
        works: dict[str, Callable[[], str | None]] = {"opening": bench.open}
        for name, view in views.items():
            works[f"typing, {name}"] = lambda view=view: typing(bench, view)
        for name, view in views.items():
            works[f"dragging, {name}"] = lambda view=view: dragging(bench, view)
        for name, view in views.items():

            def look(view: QWidget = view) -> None:
                desk.views.setCurrentIndex((desk.views.indexOf(view) + 1) % desk.views.count())
                bench.idle(0.2)
                desk.views.setCurrentWidget(view)
                bench.rest()

            works[f"looking at {name}"] = look

        def ways() -> None:
            failing = next(check for check in desk.document.evaluation.checks if check.result == "advice")
            desk.checks.list.setCurrentIndex(desk.checks.model.row_of(failing.id))
            bench.rest()

        def fold() -> None:
            desk.fold_work.find()
            bench.rest()
            desk.document.undo_stack.undo()
            bench.rest()

        def mend() -> None:
            desk.document.edit("carrier.deck_height_mm", 700.0, "Raise")
            bench.rest()
            desk.checks.mend.ask.click()
            bench.rest()
            desk.document.undo_stack.undo()
            bench.rest()

        def export() -> None:
            desk.filing.pack.start(desk.document.evaluation, bench.folder / "pack")
            bench.rest()

        def play() -> None:
            desk.views.setCurrentWidget(desk.side)
            desk.fold_bar.go(0.0)
            desk.play_fold()
            bench.idle(3)
            desk.fold_bar.pause()

        works |= {"ways out": ways, "find a fold": fold, "mend all": mend, "export": export, "playing": play}
        blocks: list[float] = []
        own: list[float] = []
        for name, work in works.items():
            if wanted and not any(word in name for word in wanted):
                continue
            bench.measure(name, work)
            blocks += bench.beats.blocks_ms
            own += bench.beats.own_ms
        tell("all", blocks, own)
        bench.desk.window.close_unasked()


if __name__ == "__main__":
    main(sys.argv[1:])
