"""A way out of rolling drawn before and after: both in the room they are given, each with its own figure."""

from dataclasses import replace
from functools import cache

import pytest

from rampdraft.checks.result import Check
from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.rolling_cure import cure_picture
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.export.pdf.paper import width_mm
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import changed

ROOMS = ((150.0, 52.0), (72.0, 28.0), (60.0, 120.0), (10.0, 10.0))
WAY = WayOut(path="toe.thickness_mm", before=40.0, after=25.0, share=0.4)


@cache
def steps() -> tuple[Evaluation, Evaluation, Check]:
    """A toe of 40 mm, one of 25, and the check that fails."""
    path = next(path for path in sample_paths() if path.stem == "barn-stage")
    design = load_design(path)
    few = replace(design, use=replace(design.use, users=design.use.users[:1]))
    before = evaluate(changed(few, WAY.path, WAY.before), path.parent)
    check = next(check for check in before.rolled if check.id == "own/roll-start")
    return before, before.changed(WAY.path, WAY.after), check


@pytest.mark.parametrize("room", ROOMS)
def test_both_lie_in_the_room_with_their_words_and_figures(room: tuple[float, float]) -> None:
    before, after, check = steps()
    picture = cure_picture(before, after, check, WAY, room)
    assert picture is not None
    x0, y0, x1, y1 = picture.box
    for mark in picture.marks:
        if isinstance(mark, Path):
            assert all(x0 - 0.1 <= x <= x1 + 0.1 and y0 - 0.1 <= y <= y1 + 0.1 for x, y, _ in mark.vertices)
    labels = [mark for mark in picture.marks if isinstance(mark, Label)]
    for label in labels:
        assert y0 <= label.at[1] <= y1
        assert label.at[0] + width_mm(label.text, label.size_pt) <= x1 + 0.5, label.text
    words = [label.text for label in labels]
    assert any(one.startswith("fails: ") for one in words)
    assert any(one.startswith(("close: ", "passes: ")) for one in words)
    assert any(one.startswith("As it is: ") and one.endswith("40 mm") for one in words)
    assert any(one.startswith("Changed: ") and one.endswith("25 mm") for one in words)
    frames = [mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == "paper"]
    assert len(frames) >= 2
    assert any(isinstance(mark, Path) and mark.pen == "ghost" for mark in picture.marks)


def test_what_is_no_check_of_rolling_has_no_such_picture() -> None:
    before, after, _ = steps()
    other = next(check for check in before.checks if check.id.startswith("own/strength"))
    assert cure_picture(before, after, other, WAY, ROOMS[0]) is None


def test_somebody_who_does_not_roll_any_more_is_not_drawn() -> None:
    before, _, check = steps()
    narrow = WayOut(path="both_leaves.width_mm", before=1000.0, after=500.0, share=0.5)
    user = before.design.use.users[0]
    wide = replace(user, front_track_mm=1500.0, rear_track_mm=1500.0)
    after = before.changed("use.users", (wide,))
    assert cure_picture(before, after, check, narrow, ROOMS[0]) is None
