"""The leaves are folded past the brackets on the carrier: stubs, plates and the heads of their bolts."""

import pytest
from plain_clearance import changed, designs

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.brackets import stub_room_mm
from rampdraft.model.design import Design
from rampdraft.model.section import Section


def clearance_of(design: Design, one: str, other: str) -> float:
    """Return the least clearance of two families; infinity where they never meet."""
    found = [
        pair.clearance_mm
        for pair in evaluate(design).clearance.pairs
        if pair.what.startswith(f"carrier bracket {one} - ") and pair.what.endswith(other)
    ]
    return min(found, default=float("inf"))


@pytest.mark.parametrize("first", [0.0, 2.0, 7.5])
def test_the_first_slat_passes_over_the_stub_by_as_much_as_it_lies_beyond_the_hinge(first: float) -> None:
    """By hand: of the leaf that stands upright it begins so far above the hinge line, where the stub ends."""
    design = designs()["library-trailer"]
    design = changed(design, inner_leaf__slat_ends="given", inner_leaf__slat_first_mm=first)
    assert clearance_of(design, "stub", "inner slat") == pytest.approx(first, abs=0.03)


@pytest.mark.parametrize(("more", "meets"), [(-0.5, False), (0.5, True)])
def test_a_stub_meets_the_rail_where_it_is_wider_than_what_is_between_rails(more: float, meets: bool) -> None:
    """By hand: knuckles of 42 mm with gaps of 2 mm stand 44 mm apart, half a rail of 40 mm leaves 24 mm."""
    design = designs()["library-trailer"]
    assert stub_room_mm(design) == 48 - 2 * 2, "a gap as wide as between the knuckles on either side"
    section = Section(kind="box", depth_mm=60, width_mm=48 + more, wall_mm=4)
    design = changed(design, joining__bracket_section=section)
    assert (clearance_of(design, "stub", "inner rail") < 0) is meets


def test_a_leaf_that_leans_in_beyond_upright_meets_the_bolts_or_the_stub() -> None:
    """Nothing else than the bracket is there to be met: the deck lies higher and further in."""
    design = changed(designs()["library-trailer"], fold__stowed_deg=100)
    assert clearance_of(design, "stub", "inner slat") < 3
    bolted = changed(design, joining__bolt_size="M16", joining__bolt_edge_mm=18.0, deck_hinge__out_mm=36)
    assert clearance_of(bolted, "bolt", "inner slat") < clearance_of(design, "bolt", "inner slat")


def test_what_is_met_is_told_by_name_and_fails() -> None:
    section = Section(kind="box", depth_mm=60, width_mm=60, wall_mm=4)
    found = evaluate(changed(designs()["library-trailer"], joining__bracket_section=section))
    check = next(one for one in found.checks if one.id == "own/clearance/carrier-bracket-stub-inner-rail")
    assert check.fails
    assert "carrier bracket stub" in check.subject
