"""Lists of what is made, bought and welded, and the order of assembly: that they hold everything once, and
agree with the members and with what strength judges.
"""

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from any_design import designs

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.props import prop_tubes
from rampdraft.model.design import Price, Prop
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.shop.holes import holes_of
from rampdraft.shop.tolerances import cut_tolerance_mm, weld_tolerance_mm
from rampdraft.strength.knuckles import KnuckleWelds
from rampdraft.strength.stop import Stops

SAMPLES = {path.stem: path for path in sample_paths()}
RANDOM = [f"random {number}" for number in range(12)]
NAMES = [*SAMPLES, *RANDOM]


@cache
def drawn():
    return tuple(designs(len(RANDOM), seed=14))


@cache
def evaluated(name: str) -> Evaluation:
    if name in SAMPLES:
        return evaluate(load_design(SAMPLES[name]), SAMPLES[name].parent)
    return evaluate(drawn()[int(name.split()[1])])


def built(evaluation: Evaluation):
    return (*evaluation.assembly.members, *evaluation.brackets)


@pytest.mark.parametrize("name", NAMES)
def test_every_member_is_in_one_part_and_every_number_is_one_things(name):
    found = evaluated(name)
    assert Counter(key for part in found.parts for key in part.members) == Counter(
        member.key for member in built(found)
    )
    numbers = [
        *(part.number for part in found.parts),
        *(one.number for one in found.bought),
        *(weld.number for weld in found.welds),
    ]
    assert len({number.casefold() for number in numbers}) == len(numbers)
    codes = [part.code for part in found.parts]
    assert len(set(codes)) == len(codes)


@pytest.mark.parametrize("name", NAMES)
def test_the_steps_take_all_parts_fixings_and_welds_once(name):
    found = evaluated(name)
    steps = found.assembly_steps
    parts, bought = Counter(), Counter()
    for step in steps:
        parts.update({one.number: one.quantity for one in step.parts})
        bought.update({one.number: one.quantity for one in step.bought})
    assert parts == Counter({part.number: part.quantity for part in found.parts})
    assert bought == Counter({one.number: one.quantity for one in found.bought})
    laid = [number for step in steps for number in step.welds]
    assert sorted(laid) == sorted(weld.number for weld in found.welds)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    there: set[str] = set()
    rows = {weld.number: weld for weld in found.welds}
    for step in steps:
        there.update(step.members)
        assert all(set(pair) <= there for number in step.welds for pair in rows[number].places), step.kind


def screw_places(members, role, lifted):
    """Return where holes of members of a role lie on their leaf: (body, u, y), in order."""
    return sorted(
        (one.body, min(u for u, _, _ in one.silhouette.vertices) + u, one.y0_mm + y)
        for one in members
        if one.role == role
        for u, y in lifted(one)
    )


def with_a_partner(places, others):
    """Return how many places have one of the others in the same place, each its own."""
    left, count = list(others), 0
    for body, u, y in places:
        found = next(
            (k for k, one in enumerate(left) if one[0] == body and abs(one[1] - u) + abs(one[2] - y) < 1e-6),
            None,
        )
        if found is not None:
            del left[found]
            count += 1
    return count


@pytest.mark.parametrize("name", NAMES)
def test_slat_screws_have_a_hole_in_both_members(name):
    """Seen from above, each hole in a rail lies under one in a slat, and one screw goes through both."""
    found = evaluated(name)
    rails = screw_places(
        built(found), "rail", lambda one: [(h.at_mm, h.across_mm) for h in one.piece.drilled]
    )
    slats = screw_places(
        built(found), "slat", lambda one: [(h.y_mm, h.x_mm) for h in one.piece.profile.holes]
    )
    assert with_a_partner(rails, slats) == len(rails)
    bought = sum(one.quantity for one in found.bought if one.kind == "slat screw")
    assert bought == len(rails)
    assert bool(rails) is (found.design.workshop.slat_screw_mm > 0)


@pytest.mark.parametrize("name", NAMES)
def test_upstand_screws_have_a_hole_in_both_members(name):
    found = evaluated(name)
    ends = screw_places(
        built(found),
        "slat",
        lambda one: [(h.across_mm, side) for h in one.piece.drilled for side in (0, one.y1_mm - one.y0_mm)],
    )
    upstands = screw_places(
        built(found),
        "edge upstand",
        lambda one: [
            (h.x_mm, one.y1_mm - one.y0_mm if one.y1_mm <= 0 else 0) for h in one.piece.profile.holes
        ],
    )
    assert with_a_partner(upstands, ends) == len(upstands) == len(ends)
    bought = sum(one.quantity for one in found.bought if one.kind == "upstand screw")
    assert bought == len(upstands)


@pytest.mark.parametrize("name", NAMES)
def test_pins_and_brackets_have_all_that_holds_them(name):
    found = evaluated(name)
    count = Counter(one.role for one in built(found))
    bought = Counter()
    for one in found.bought:
        bought[one.kind] += one.quantity
    assert bought["split pin"] == 2 * count["pin"]
    assert count["bracket plate"] == len(found.design.inner_leaf.rail_lanes_mm)
    assert bought["bracket bolt"] == count["bracket plate"] * found.design.joining.bolt_count
    assert bought["bracket nut"] * 2 == bought["bracket washer"] == bought["bracket bolt"] * 2
    for part in found.parts:
        x0, y0, x1, y1 = part.piece.profile.outline.box
        for hole in part.piece.profile.holes:
            reach = hole.diameter_mm / 2 - 1e-9
            assert x0 + reach < hole.x_mm < x1 - reach, part.number
            assert y0 + reach < hole.y_mm < y1 - reach, part.number
        holes = holes_of(found.design, part, found.bought)
        assert len(holes) == len(part.piece.profile.holes) + len(part.piece.drilled)
        assert all(hole.takes for hole in holes if hole.use != "bore"), part.number


@pytest.mark.parametrize("name", SAMPLES)
def test_welds_are_those_that_strength_judges(name):
    """Throat and length of the rows are what the checks of knuckles and stop bars reckon with."""
    found = evaluated(name)
    judged = {family.key: part for family, part in found.strengths.parts}
    tried = 0
    for weld in found.welds:
        by = judged.get(weld.judged)
        if isinstance(by, KnuckleWelds):
            tried += 1
            assert weld.throat_mm == by.throat_mm
            assert any(weld.length_mm == pytest.approx(one.length_mm, abs=1e-4) for one in by.welds)
        elif isinstance(by, Stops):
            tried += 1
            assert weld.throat_mm == by.throat_mm
            assert weld.runs_mm == pytest.approx((by.length_mm, by.length_mm), abs=1e-4)
    if found.carried.held:
        assert tried >= 2


def test_a_slat_screw_of_every_size_goes_through_its_hole():
    """ISO 273, medium: M5 5.5, M6 6.6, M8 9 (from memory); ISO 2306: tap drills 4.2, 5, 6.8 (from memory)."""
    design = evaluated("library-trailer").design
    sizes = {}
    for hole in (5.5, 6.6, 9.0):
        made = evaluate(with_value(design, "workshop.slat_screw_mm", hole))
        (screw, *_) = (one for one in made.bought if one.kind == "slat screw")
        rail = next(part for part in made.parts if part.role == "rail")
        sizes[hole] = screw.diameter_mm, rail.piece.drilled[0].diameter_mm
        assert screw.length_mm >= design.inner_leaf.slat_thickness_mm + design.inner_leaf.rail_section.wall_mm
    assert sizes == {5.5: (5, 4.2), 6.6: (6, 5), 9.0: (8, 6.8)}


@pytest.mark.parametrize(("shortest", "longest"), [(100.0, 140.0), (225.0, 360.0), (400.0, 500.0)])
def test_a_prop_is_two_tubes_that_reach_from_shortest_to_longest(shortest, longest):
    """A foot of 6 mm under them counts."""
    prop = Prop(
        fitted=True, section=parse_section("box 40x40x3"), shortest_mm=shortest, longest_mm=longest,
        foot_mm=100, pin_diameter_mm=8,
    )  # fmt: skip
    tubes = prop_tubes(prop)
    assert tubes is not None
    assert tubes.outer_mm + tubes.inner_mm - tubes.overlap_mm + 6 == pytest.approx(longest)
    assert max(tubes.outer_mm, tubes.inner_mm) + 6 <= shortest, "pushed together it is as short as it must be"
    for height in (shortest, (shortest + longest) / 2, longest):
        hole = tubes.hole_at_mm(height)
        assert tubes.outer_mm - tubes.outer_hole_mm - hole + tubes.inner_mm + 6 == pytest.approx(height)
        end = 1.2 * tubes.hole_mm  # EN 1993-1-8, table 3.3, e1 (from memory)
        assert end <= hole <= tubes.inner_mm - end
    assert tubes.inner == parse_section("box 30x30x3"), "34 mm inside, and no larger box is sold that goes in"


def test_a_prop_too_long_for_two_tubes_is_one():
    prop = Prop(
        fitted=True, section=parse_section("box 40x40x3"), shortest_mm=180, longest_mm=360, foot_mm=100
    )
    assert prop_tubes(prop) is None
    assert prop_tubes(replace(prop, shortest_mm=360)) is None, "of one length"
    assert prop_tubes(replace(prop, shortest_mm=225, pin_diameter_mm=0)) is None, "no pin"
    assert prop_tubes(replace(prop, shortest_mm=225)) is not None


def test_general_tolerances():
    """ISO 2768-1, table 1, class m; ISO 13920, table 1, class B (both from memory)."""
    assert [cut_tolerance_mm(size) for size in (5, 30, 31, 400, 1000, 1346)] == [0.1, 0.2, 0.3, 0.5, 0.8, 1.2]
    assert [weld_tolerance_mm(size) for size in (30, 400, 860, 1346, 2700)] == [1, 2, 3, 4, 6]


def test_missing_and_idle_prices_are_told_by_row():
    design = evaluated("library-trailer").design
    some = (Price(item="F1", each=0.2), Price(item=" F3 ", each=0.05), Price(item="F99", each=1.0),
            Price(item="F1", each=0.3))  # fmt: skip
    found = evaluate(with_value(design, "prices", some)).costs
    assert found.total is None
    rows = {row.number: (place, row) for place, row in enumerate(found.rows, start=1) if row.number}
    assert rows["F1"][1].cost == pytest.approx(0.3 * rows["F1"][1].quantity), "the last one counts"
    assert found.known == pytest.approx(sum(row.cost for row in found.rows if row.cost is not None))
    told = {(one.row, one.column, one.why) for one in found.untold}
    assert {(3, "item", "not bought"), (4, "item", "twice")} <= told
    assert (rows["F4"][0], "price", "no price") in told
    assert (rows["F1"][0], "price", "no price") not in told
    words, *idle = found.told
    assert words.startswith(f"What has a price costs {found.known:.2f}; without one: ")
    assert words.endswith(f" and {len(found.rows) - 7} more.")
    assert idle == [
        "The price of 'F99' is for nothing that is bought.",
        "The price of 'F1' stands there twice: the last counts.",
    ]
    assert evaluated("library-trailer").costs.told == ()
    stock = tuple(replace(row, price=10.0) for row in design.stock)
    every = tuple(Price(item=row.number, each=1.0) for row in found.rows if row.number)
    whole = evaluate(replace(design, stock=stock, prices=every)).costs
    assert not whole.untold
    assert whole.told == (f"All that is bought costs {whole.total:.2f}.",)
    bars = sum(row.quantity for row in whole.rows if row.kind == "stock")
    assert whole.total == pytest.approx(
        10 * bars + sum(row.quantity for row in whole.rows if row.kind != "stock")
    )


def kinds_of(evaluation):
    return {one.kind for one in evaluation.remarks}


def test_what_the_lists_cannot_hold_is_told():
    trailer, stage = evaluated("library-trailer"), evaluated("barn-stage")
    assert kinds_of(trailer) == {"packing", "narrow ledge"}
    assert kinds_of(stage) == {"not weldable"}, "a flap of steel on a slat of timber"
    assert "prop of one piece" in kinds_of(stage.changed("prop.shortest_mm", 180.0))
    wood = trailer.changed("made_of.slats", "timber C24")
    assert "upstands not fixed" not in kinds_of(wood), "5.5 mm in boards of 8 mm"
    wood = wood.changed("workshop.slat_screw_mm", 6.5)
    assert "upstands not fixed" in kinds_of(wood), "6.5 mm is more than 0.8 of 8 mm"
    assert "screw too thick" in kinds_of(trailer.changed("workshop.slat_screw_mm", 3.0))
    bare = trailer.changed("workshop.slat_screw_mm", 0.0)
    assert "not weldable" in kinds_of(bare), "aluminium on steel"
    assert not any(one.kind == "slat screw" for one in bare.bought)


@pytest.mark.parametrize(("length", "narrow"), [(48.4, True), (48.5, False)])
def test_a_knuckle_stands_out_by_the_leg_of_its_weld(length: float, narrow: bool) -> None:
    """On a rail of 40 mm: a3 has a leg of 3 sqrt(2) = 4.24 mm on either side."""
    found = evaluated("library-trailer").changed("deck_hinge.knuckle_length_mm", length)
    assert ("narrow ledge" in kinds_of(found)) is narrow


@pytest.mark.parametrize(
    ("path", "value", "packed"),
    [
        ("carrier.end_setback_mm", 0.0, False),
        ("carrier.deck_thickness_mm", 84.0, True),
        ("carrier.deck_thickness_mm", 85.0, False),
        ("carrier.deck_thickness_mm", 25.0, False),
        ("carrier.end_depth_mm", 41.0, True),
        ("carrier.end_depth_mm", 40.0, False),
    ],
)
def test_a_plate_that_reaches_below_the_deck_is_packed(path: str, value: float, packed: bool) -> None:
    """It reaches from the hinge centre, 25 mm below the deck, down by 60 mm; all below it lies on the end."""
    found = evaluated("library-trailer").changed(path, value)
    assert ("packing" in kinds_of(found)) is packed


@pytest.mark.parametrize(
    ("size", "setback", "longer"), [("M10", 10.0, 39), ("M10", 0.0, 29), ("M16", 10.0, 50)]
)
def test_bolts_of_the_brackets_reach_through_all_that_they_hold(
    size: str, setback: float, longer: int
) -> None:
    """By hand: 10 of plate, and the packing; washers of 2 (ISO 7089), a nut of 11.9 (ISO 7040) and two turns
    of 1.5 for M10; of 3, 19.1 and 2 for M16; all from memory.
    """
    found = evaluated("library-trailer").changed("carrier.end_setback_mm", setback)
    found = found.changed("joining.bolt_size", size)
    (name,) = [one.name for one in found.bought if one.kind == "bracket bolt"]
    assert f"at least {longer} mm longer than the carrier" in name


def test_rails_and_slats_of_a_leaf_take_the_same_screws() -> None:
    found = evaluated("library-trailer").changed("outer_leaf.slat_thickness_mm", 16.0)
    taken = {
        body: {
            hole.takes
            for part in found.parts
            if part.role in ("rail", "slat") and part.members[0].startswith(body)
            for hole in holes_of(found.design, part, found.bought)
            if hole.takes.startswith("F1")
        }
        for body in ("inner", "outer")
    }
    assert taken == {"inner": {"F1"}, "outer": {"F1B"}}


def test_each_pin_is_drilled_for_its_own_split_pins() -> None:
    found = evaluated("library-trailer")
    pins = {one.members: one.number for one in found.bought if one.kind == "split pin"}
    assert len(pins) == 2
    for part in found.parts:
        if part.role == "pin":
            (number,) = {hole.takes for hole in holes_of(found.design, part, found.bought)}
            assert set(part.members) <= set(next(keys for keys, one in pins.items() if one == number))
