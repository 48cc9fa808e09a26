"""Memory under somebody who does anything: `python tests/bench/monkey.py [ACTIONS] [SEED]` prints, every 250
actions, what the window's process holds, in MB, and last by how much that differs from what it held after the
first 500. Checks come from processes, as everybody has them; a fault ends it with a traceback.
"""

import gc
import os
import random
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program has it
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "app")]

from PySide6.QtCore import QEvent, QSettings, QStandardPaths  # noqa: E402
from stand_in import StandIn, answers  # noqa: E402
from test_monkey import ACTIONS, shown_is_of_the_design  # noqa: E402

from rampdraft.app.shell.dialogs import Answer, Conflict  # noqa: E402
from rampdraft.app.shell.main import application  # noqa: E402
from rampdraft.app.shell.window import Window  # noqa: E402

EACH, FIRST = 250, 500


def held_mb() -> float:
    """Return what the process holds in memory (proc(5), VmRSS)."""
    gc.collect()
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))


def main(count: int, seed: int) -> None:
    faults: list[BaseException] = []
    sys.excepthook = lambda kind, fault, trace: (faults.append(fault), sys.__excepthook__(kind, fault, trace))
    with tempfile.TemporaryDirectory() as folder:
        QStandardPaths.setTestModeEnabled(True)
        for kind in (QSettings.Format.IniFormat, QSettings.Format.NativeFormat):
            QSettings.setPath(kind, QSettings.Scope.UserScope, folder)
        app, window, chance = application(), Window(), random.Random(seed)
        window.resize(1200, 800)
        window.show()
        desk = window.furnish()
        desk.dialogs = StandIn(window)
        desk.filing.begin()
        answers(desk).save_path = Path(folder) / "ramp.toml"
        begun, curve = time.monotonic(), dict[int, float]()
        for number in range(1, count + 1):
            answers(desk).leave = chance.choice(tuple(Answer))
            answers(desk).over = chance.choice(tuple(Conflict))
            chance.choice(ACTIONS)(desk, chance)
            app.processEvents()
            app.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)  # as the event loop itself would
            shown_is_of_the_design(desk)
            if number % EACH == 0:
                curve[number] = held_mb()
                passed = time.monotonic() - begun
                print(f"{number}: {curve[number]:.0f} MB, {passed:.0f} s, {len(faults)} faults", flush=True)
        if count > FIRST:
            last = max(curve)
            change = curve[last] / curve[FIRST] - 1
            print(f"from {FIRST} to {last} actions: {change:+.1%}, {len(faults)} faults")
        window.close_unasked()


if __name__ == "__main__":
    main(*map(int, (sys.argv[1:] + ["10000", "8"][len(sys.argv) - 1 :])))
