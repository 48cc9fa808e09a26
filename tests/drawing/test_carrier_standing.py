"""The carrier drawn on its supports: what is sunk is sunk, so many times as large as it says, and every force
is written.
"""

import re
from dataclasses import replace
from functools import cache

import pytest
from inked import owners, paths_of, texts
from timber_ramp import timber_ramp

from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.carrier.results import CannotStand, CarrierStanding, Standing
from rampdraft.mechanics.carrier.standing import carrier_standing
from rampdraft.model.design import Design, Support

CORNERS = (
    ("near left", 250.0, 300.0),
    ("near right", 250.0, -300.0),
    ("far left", 1350.0, 300.0),
    ("far right", 1350.0, -300.0),
)
JACKS = tuple(
    Support(name=f"{side} jack", kind="jack", back_mm=50, across_mm=y, gap_mm=3)
    for side, y in (("l", 200), ("r", -200))
)


def trolley(near_mm: float = 250.0, more: tuple[Support, ...] = (), **body: float) -> Design:
    start = timber_ramp()
    supports = tuple(
        Support(
            name=name,
            kind="spring",
            back_mm=near_mm if "near" in name else back,
            across_mm=across,
            rate_n_mm=60.0,
        )
        for name, back, across in CORNERS
    )
    values = {"body_kg": 300.0, "body_back_mm": 900.0} | body
    return replace(
        start,
        carrier=replace(start.carrier, deck_length_mm=1600.0),
        supports=(*supports, *more),
        carrier_body=replace(start.carrier_body, **values),  # pyright: ignore
    )


@cache
def assembly():
    return assemble(timber_ramp())


def stood(design: Design) -> CarrierStanding:
    found = carrier_standing(design, assembly(), (0.0,))
    assert found is not None
    return found


def pictures(design: Design) -> tuple[Picture, Picture]:
    return carrier_side(design, stood(design)), carrier_end(design, stood(design))


def factor_of(picture: Picture) -> int:
    found = [
        int(number) for text in texts(picture) for number in re.findall(r"sinking drawn (\d+) times", text)
    ]
    return found[0] if found else 1


def test_side_sinks_and_nods_as_much_as_it_says() -> None:
    design = trolley()
    standing = stood(design)
    assert isinstance(standing, Standing)
    climb = standing.worst_climb
    stance = climb.stance(climb.worst)
    assert stance is not None
    picture = carrier_side(design, standing)
    deck = paths_of(picture, "carrier.deck_height_mm")[0]
    near, far = (max(z for x, z, _ in deck.vertices if x == end) for end in (0, -1600))
    factor = factor_of(picture)
    assert factor > 1
    assert design.carrier.deck_height_mm - near == pytest.approx(factor * stance.edge_drop_mm)
    assert far - near == pytest.approx(factor * stance.nod_rad * 1600)


def test_end_leans_towards_the_user_and_left_is_on_the_right() -> None:
    design = trolley()
    standing = stood(design)
    assert isinstance(standing, Standing)
    climb, at = standing.most_lean
    stance = climb.stance(at)
    assert stance is not None
    picture = carrier_end(design, standing)
    deck = paths_of(picture, "carrier.deck_height_mm")[0]
    half = design.carrier.opening_width_mm / 2
    left, right = (max(z for x, z, _ in deck.vertices if x == side) for side in (half, -half))
    assert right - left == pytest.approx(factor_of(picture) * stance.lean_rad * 2 * half)
    assert (right > left) is (climb.across_mm > 0)


@pytest.mark.parametrize("number", [0, 1])
def test_every_support_is_named_with_its_force(number: int) -> None:
    design = trolley(more=JACKS)
    standing = stood(design)
    assert isinstance(standing, Standing)
    picture = pictures(design)[number]
    climb, at = (standing.worst_climb, standing.worst_climb.worst) if number == 0 else standing.most_lean
    stance = climb.stance(at)
    assert stance is not None
    for index, (support, force) in enumerate(zip(design.supports, stance.wheels_n, strict=True), start=1):
        assert f"{support.name} {force:.0f} N" in texts(picture)
        assert f"supports[{index}]" in owners(picture)
    assert climb.words in texts(picture)


@pytest.mark.parametrize("number", [0, 1])
def test_what_tips_is_drawn_level_with_the_line_it_tips_over(number: int) -> None:
    design = trolley(near_mm=900.0, body_kg=200.0, body_back_mm=1150.0)
    picture = pictures(design)[number]
    assert any(
        text.startswith("tips over the line through near right and near left: ") for text in texts(picture)
    )
    assert any(isinstance(mark, Path) and mark.fill == "clash" for mark in picture.marks)
    deck = paths_of(picture, "carrier.deck_height_mm")[0]
    assert max(z for _, z, _ in deck.vertices) == design.carrier.deck_height_mm
    assert "near left" in texts(picture), "no force of a tipping carrier is given"


def test_what_cannot_stand_says_why() -> None:
    design = trolley()
    design = replace(design, supports=design.supports[:2])
    found = stood(design)
    assert isinstance(found, CannotStand)
    for picture in (carrier_side(design, found), carrier_end(design, found)):
        assert texts(picture)[-2:] == [f"Cannot stand: {found.why}", f"Way out: {found.way_out}"]


@pytest.mark.parametrize("number", [0, 1])
@pytest.mark.parametrize("near_mm", [250.0, 900.0])
def test_marks_lie_within_the_box_and_words_below_do_not_meet(near_mm: float, number: int) -> None:
    picture = pictures(trolley(near_mm=near_mm, more=JACKS))[number]
    x0, z0, x1, z1 = picture.box
    per_mm = (x1 - x0) / 240
    for mark in picture.marks:
        points = [mark.at] if isinstance(mark, Label) else [(x, z) for x, z, _ in mark.vertices]
        assert all(x0 - 1 <= x <= x1 + 1 and z0 - 1 <= z <= z1 + 1 for x, z in points)
    below = [mark for mark in picture.marks if isinstance(mark, Label) and mark.at[1] < 0]
    for row, one in enumerate(below):
        for other in below[:row]:
            if abs(one.at[1] - other.at[1]) < 3 * per_mm:
                assert abs(one.at[0] - other.at[0]) >= (len(one.text) + len(other.text)) * 1.7 * per_mm / 2


def test_what_rides_along_is_drawn_by_what_it_is_not_by_its_name() -> None:
    design = trolley()
    standing = stood(design)
    assert isinstance(standing, Standing)
    renamed = replace(standing, weights=tuple(replace(one, words="box") for one in standing.weights))
    assert sum("box" in text for text in texts(carrier_side(design, renamed))) == 1
