"""A kill at any call of the system during a save or a note leaves the old file or the new one, whole."""

import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from rampdraft.files.design_file import load_design, read_design, save_design
from rampdraft.files.journal import Note, keep_note, read_note
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value

BEFORE = load_design(sample_paths()[0])
AFTER = with_value(BEFORE, "workshop.kerf_mm", 1.375)


def killed_at(step: int, work: Callable[[], object]) -> bool:
    """Do some work in a process of its own that is killed at its `step`th call of the system; return whether
    it was.
    """
    process = os.fork()
    if process == 0:
        count = 0

        def kill(event: str, _: object) -> None:
            nonlocal count
            count += event == "open" or event.startswith("os.")
            if count == step:
                os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(kill)
        try:
            work()
        finally:
            os._exit(0)
    return os.waitpid(process, 0)[1] != 0


def save(design: Design, file: Path) -> None:
    text = file.read_text(encoding="utf-8") if file.exists() else ""
    save_design(design, file, over=text)


def note(design: Design, file: Path) -> None:
    keep_note(file, Note(design=design, path=None, folder=None, text=""))


def of_note(file: Path) -> Design:
    return read_note(file).design


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills by signal")
@pytest.mark.parametrize("each", [3, pytest.param(1, marks=pytest.mark.soak)], ids=["short", "soak"])
@pytest.mark.parametrize(("write", "read"), [(save, load_design), (note, of_note)], ids=["save", "note"])
def test_a_kill_leaves_the_old_or_the_new(
    tmp_path: Path, write: Callable[[Design, Path], None], read: Callable[[Path], Design], each: int
) -> None:
    file, met = tmp_path / "a.toml", list[bool]()
    read_design(sample_paths()[0].read_text(encoding="utf-8"), "")  # what is loaded late is no step of it
    write(BEFORE, file)
    write(AFTER, tmp_path / "warm.toml")
    write(BEFORE, tmp_path / "warm.toml")
    step, killed = 1, True
    while killed:
        write(BEFORE, file)
        killed = killed_at(step, lambda: write(AFTER, file))
        found = read(file)
        assert found in (BEFORE, AFTER)
        met.append(found == AFTER)
        backup = tmp_path / "a.toml.bak"
        assert not backup.exists() or read(backup) in (BEFORE, AFTER)
        step += each
    write(BEFORE, file)
    assert not list(tmp_path.glob(".*")), "what the killed left is cleared up"
    assert met == sorted(met), "the old up to a moment, the new from then on"
    assert set(met) == {False, True}
