"""A user drawn rolling over the ramp: it stands where the mechanics say, the place that matters is enlarged,
and the sheet is filled.
"""

import math
from dataclasses import replace
from functools import cache

import pytest
from inked import owners, texts

from rampdraft.drawing.charts import Strip
from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.rolling import RollingSheet, clearance_text, rolling_sheet
from rampdraft.drawing.rolling_charts import (
    clearance_along,
    force_along,
    front_of,
    pitch_along,
    share_of,
)
from rampdraft.drawing.rolling_words import (
    ALL_WAYS,
    SIGNS,
    Told,
    facing_of,
    rows_of,
    spots,
    told_of,
)
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export.pdf.paper import width_mm
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolled import AlongSite, UserAt
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.rolling.results import Roll, Way
from rampdraft.mechanics.rolling.roll import roll
from rampdraft.mechanics.rolling.summary import summed
from rampdraft.mechanics.rolling.surfaces import Surfaces

PATHS = {path.stem: path for path in sample_paths()}
ROOMS = ((156.0, 108.0), (240.0, 150.0), (260.0, 60.0), (120.0, 200.0))


@cache
def sample(name: str) -> Evaluation:
    return evaluate(load_design(PATHS[name]), PATHS[name].parent)


@cache
def rolled(name: str, way: Way) -> tuple[Roll, AlongSite]:
    evaluation = sample(name)
    pose, facing = evaluation.sites[-1], facing_of(way)[0]
    surfaces = Surfaces(evaluation.design, evaluation.assembly, pose)
    found = roll(evaluation.design, 1, pose, surfaces, facing, step_mm=10.0)
    return found, AlongSite(evaluation.design, 1, pose, surfaces, facing)


def drawn(name: str, way: Way, room: tuple[float, float] = ROOMS[0]) -> tuple[RollingSheet, UserAt]:
    found, along = rolled(name, way)
    look = spots(found, facing_of(way)[1])[0].worst
    sheet = rolling_sheet(sample(name), sample(name).sites[-1], found, way, look, room)
    return sheet, along.at(look.front_mm)


def ends_of(path: Path) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _, _ in path.vertices], [y for _, y, _ in path.vertices]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("name", PATHS)
def test_the_sheet_is_as_its_room_and_nothing_leaves_it(name: str, room: tuple[float, float]) -> None:
    sheet, user = drawn(name, "up forwards", room)
    x0, z0, x1, z1 = sheet.box
    assert ((x1 - x0) / sheet.per_mm, (z1 - z0) / sheet.per_mm) == pytest.approx(room)
    frame = sheet.detail.frame
    assert x0 - 1e-6 <= frame[0] < frame[2] <= x1 + 1e-6
    assert z0 - 1e-6 <= frame[1] < frame[3] <= z1 + 1e-6
    slack = 3 * sheet.per_mm
    for mark in sheet.moving(user):
        if isinstance(mark, Path):
            left, _, right, high = ends_of(mark)
            assert x0 - slack < left
            assert right < x1 + slack
            assert high < z1


@pytest.mark.parametrize("room", [(0.0, 0.0), (2.6, 2.6), (156.0, 9.0), (20.0, 108.0)])
def test_a_sheet_too_small_for_anything_is_drawn_as_a_larger_one(room: tuple[float, float]) -> None:
    sheet, user = drawn("library-trailer", "up forwards", room)
    x0, z0, x1, z1 = sheet.box
    assert (x1 - x0) / sheet.per_mm >= 80.0
    assert (z1 - z0) / sheet.per_mm >= 50.0
    assert len(sheet.picture(user).marks) < 1000


@pytest.mark.parametrize("name", PATHS)
def test_the_detail_does_not_lie_on_the_way(name: str) -> None:
    """Wherever the user is, no part of it that is drawn in the whole stands in the frame of the detail."""
    found, along = rolled(name, "up forwards")
    for room in ROOMS:
        sheet, _ = drawn(name, "up forwards", room)
        frame = sheet.detail.frame
        for share in (0.0, 0.3, 0.6, 1.0):
            user = along.at(front_of(found, share))
            x, z = user.mass_centre
            assert not (frame[0] < x < frame[2] and frame[1] < z < frame[3])


@pytest.mark.parametrize("way", ["up forwards", "down forwards"])
def test_the_detail_shows_the_place_that_is_worst_with_its_clearance(way: Way) -> None:
    name = "library-trailer"
    found, along = rolled(name, way)
    sheet = rolling_sheet(sample(name), sample(name).sites[-1], found, way, found.clearance, ROOMS[0])
    user = along.at(found.clearance.front_mm)
    x0, z0, x1, z1 = sheet.detail.window
    x, z = user.low.at
    assert x0 < x < x1
    assert z0 < z < z1
    assert sheet.detail.times > 2
    said = texts(sheet.picture(user))
    assert f"footrest, {user.low.clearance_mm:.1f} clear" in said
    assert any(text.endswith("times as large") for text in said)


def test_wheels_are_drawn_where_they_touch_and_turn() -> None:
    sheet, user = drawn("library-trailer", "up forwards")
    near = {wheel.axle: wheel for wheel in sorted(user.wheels, key=lambda one: -one.across_mm)}
    for axle, wheel in near.items():
        spokes = [
            mark
            for mark in sheet.moving(user)
            if isinstance(mark, Path) and mark.owner == f"use.users[1].{axle}_radius_mm"
        ][:2]
        for number, spoke in enumerate(spokes):
            (ax, az, _), (bx, bz, _) = spoke.vertices
            assert ((ax + bx) / 2, (az + bz) / 2) == pytest.approx(wheel.centre)
            turned = math.atan2(bz - az, bx - ax) - wheel.turned_rad - number * math.pi / 2
            assert math.remainder(turned, math.pi) == pytest.approx(0.0, abs=1e-9)
        rings = [
            mark for mark in sheet.moving(user) if isinstance(mark, Path) and _is_ring(mark, wheel.radius_mm)
        ]
        # All stands in the plane of the widest wheels: narrower ones are off by the lean of that.
        off = abs(user.lean) * (280.0 + wheel.across_mm) + 1e-6
        assert any(_middle(mark) == pytest.approx(wheel.centre, abs=off) for mark in rings)


def _is_ring(mark: Path, radius: float) -> bool:
    return len(mark.vertices) == 2 and math.isclose(
        math.dist(mark.vertices[0][:2], mark.vertices[1][:2]), 2 * radius
    )


def _middle(mark: Path) -> tuple[float, float]:
    (ax, az, _), (bx, bz, _) = mark.vertices
    return (ax + bx) / 2, (az + bz) / 2


def test_who_faces_away_is_drawn_the_other_way_round() -> None:
    _, up = drawn("library-trailer", "up forwards")
    _, down = drawn("library-trailer", "down forwards")
    for user, sign in ((up, 1), (down, -1)):
        rear = user.point(450.0, 100.0)
        assert sign * (rear[0] - user.front[0]) > 400


def test_the_ramp_lies_as_the_side_view_has_it_and_can_be_pointed_at() -> None:
    sheet, user = drawn("library-trailer", "up forwards")
    found = owners(sheet.picture(user))
    assert {"inner rail 1", "outer rail 1"} <= found
    assert "use.users[1].footrest_height_mm" in found


# Charts
# ----------------------------------------------------------------------------------------------


def strips_of(name: str, way: Way) -> tuple[Strip, ...]:
    found, along = rolled(name, way)
    site, number = sample(name).sites[-1], facing_of(way)[1]
    mass = along.shape.mass_kg
    return clearance_along(found, site), pitch_along(found, site), force_along(found, site, number, mass)


@pytest.mark.parametrize("way", ALL_WAYS)
@pytest.mark.parametrize("name", PATHS)
def test_charts_mark_the_worst_places(name: str, way: Way) -> None:
    found, _ = rolled(name, way)
    clearance, pitch, force = strips_of(name, way)
    assert clearance.marked == (share_of(found, found.clearance.front_mm), found.clearance.value)
    assert clearance.value(clearance.marked[0]) == found.clearance.value
    assert min(value for _, value in clearance.runs[0]) >= found.clearance.value - 0.011
    push = found.ways[facing_of(way)[1]].push
    assert force.marked == (share_of(found, push.front_mm), push.value)
    for tip, marked in zip((found.tip_back, found.tip_forward), (pitch.marked, *pitch.besides), strict=False):
        if tip is not None:
            assert marked[0] == share_of(found, tip.front_mm)
    for strip in (clearance, pitch, force):
        assert strip.low <= 0 < strip.top
        assert strip.runs[0][0][0] == 0.0
        assert strip.runs[0][-1][0] == 1.0


def test_a_share_and_its_place_are_one() -> None:
    found, _ = rolled("barn-stage", "up forwards")
    assert front_of(found, 0.0) == found.front_mm[0]
    assert front_of(found, 1.0) == found.front_mm[-1]
    assert share_of(found, front_of(found, 0.37)) == pytest.approx(0.37)


# Words
# ----------------------------------------------------------------------------------------------


def told_with(**changes: object) -> Told:
    """Return what is told of a roll at the barn where all is well, changed."""
    found, _ = rolled("barn-stage", "up forwards")
    (ahead, back) = found.ways
    well = replace(found.clearance, value=50.0)
    good = replace(found.ways[0].push, value=0.2)
    roll_ = replace(
        found,
        lows=(well,),
        tip_back=replace(found.tip_back, value=0.2),  # type: ignore[type-var]
        tip_forward=replace(found.tip_forward, value=0.2),  # type: ignore[type-var]
        hanging=None,
        ways=(replace(ahead, bump=good), replace(back, bump=good)),
    )
    if "bump" in changes:
        bump = replace(good, value=changes.pop("bump"))
        roll_ = replace(roll_, ways=(replace(ahead, bump=bump), replace(back, bump=good)))
    return told_of(summed((replace(roll_, **changes),))[0])


def test_each_outcome_is_told_by_its_own_word_and_sign() -> None:
    found, _ = rolled("barn-stage", "up forwards")
    at = found.clearance
    assert told_with().words == "○ 50 mm clear"
    assert told_with(hanging=replace(at, value=3.0, place="toe")).words == "◇ wheel off, toe"
    assert told_with(bump=1.01).outcome == "bump"
    assert told_with(bump=0.99).outcome == "rolls"
    assert told_with(bump=math.inf).outcome == "stopped"
    assert told_with(tip_back=replace(at, value=-0.01, place="joint")).words == "▲ tips, joint"
    assert told_with(lows=(replace(at, value=-0.1, place="outer"),)).words == "✕ grounds, outer"
    rolling = [one for one in SIGNS if one not in ("not reached", "too wide")]
    assert len({SIGNS[one] for one in rolling}) == len(rolling)


def test_the_table_has_every_user_site_and_way_with_the_worst_of_the_deck_states() -> None:
    evaluation = sample("barn-stage")
    design = evaluation.design
    rolls = roll_everywhere(
        design, evaluation.assembly, evaluation.sites, evaluation.straight, None, evaluation.props_set
    )
    rows = rows_of(rolls, len(design.use.users), (1, 2))
    assert [(row.user, row.site_number) for row in rows] == [
        (user, site) for user in (1, 2, 3) for site in (1, 2)
    ]
    for row in rows:
        assert set(row.told) == set(ALL_WAYS)
        for way, told in row.told.items():
            facing, number = facing_of(way)
            same = [
                one
                for one in rolls
                if isinstance(one, Roll)
                and (one.user, one.site_number, one.facing) == (row.user, row.site_number, facing)
            ]
            assert len(same) == 2
            alone = [told_of(summed((one,))[number]) for one in same]
            order = list(SIGNS)
            assert order.index(told.outcome) == min(order.index(one.outcome) for one in alone)


def test_who_is_too_wide_and_where_nothing_reaches_is_said() -> None:
    evaluation = sample("barn-stage")
    users = (replace(evaluation.design.use.users[0], front_track_mm=1200.0, rear_track_mm=1200.0),)
    wide = replace(evaluation.design, use=replace(evaluation.design.use, users=users))
    rolls = roll_everywhere(
        wide, evaluation.assembly, evaluation.sites, evaluation.straight, None, evaluation.props_set
    )
    (one, two) = rows_of(rolls, 1, (1, 2))
    assert {told.words for row in (one, two) for told in row.told.values()} == {"✕ too wide"}
    (row,) = rows_of((), 1, (1,))
    assert {told.words for told in row.told.values()} == {"✕ not reached"}


def test_captions_stay_on_the_sheet() -> None:
    for name in PATHS:
        sheet, user = drawn(name, "up forwards", (120.0, 200.0))
        captions = [mark for mark in sheet.moving(user) if isinstance(mark, Label)][-2:]
        assert all(len(mark.text) * 1.45 <= 120.0 + 1.5 for mark in captions)


@pytest.mark.parametrize("room", ROOMS)
def test_the_label_of_the_detail_stays_in_its_frame(room: tuple[float, float]) -> None:
    seen = 0
    for name in PATHS:
        for way in ALL_WAYS:
            sheet, user = drawn(name, way, room)
            x0, z0, x1, z1 = sheet.detail.frame
            for mark in sheet.moving(user):
                if isinstance(mark, Label) and mark.text == clearance_text(user.low):
                    wide = width_mm(mark.text, mark.size_pt) * sheet.per_mm
                    assert x0 < mark.at[0]
                    assert mark.at[0] + wide < x1
                    assert z0 < mark.at[1] < z1
                    seen += 1
    assert seen > 10
