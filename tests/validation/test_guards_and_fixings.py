"""Edge upstands pushed sideways and slats lifted at their ends, by hand."""

import pytest
from timber_ramp import timber_ramp
from written_starter import written_starter

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.strength.fixings import Fixings
from rampdraft.units import G_M_S2


def one_wheel(design: Design) -> Design:
    """Return the design for one wheel of 100 kg, 20 x 20 mm, without bumps."""
    user = WheeledUser(
        name="One wheel", kind="barrow", mass_kg=100, width_mm=300, wheelbase_mm=100, front_share_percent=100,
        front_track_mm=0, rear_track_mm=0, tyre_width_mm=20, tyre_contact_mm=20, mass_centre_height_mm=1,
    )  # fmt: skip
    for path, value in (("use.users", (user,)), ("use.rated_load_kg", 100.0), ("use.bump_factor", 1.0)):
        design = with_value(design, path, value)
    return design


def check_of(design: Design, key: str) -> Check | None:
    return next((one for one in evaluate(design).checks if one.id == f"own/strength/{key}"), None)


def ratio_of(design: Design, key: str) -> float:
    found = check_of(design, key)
    assert found is not None
    assert found.ratio is not None
    return found.ratio


def test_an_upstand_at_its_foot() -> None:
    """0.3 of the wheel at the top of 52 mm, over 20 + 52 mm of a plate of 5 mm in softened 6063-T6, 65 /
    1.1 MPa (EN 1999-1-1, table 3.2b): the share is common practice.
    """
    design = with_value(one_wheel(written_starter()), "made_of.upstands", "aluminium 6063-T6")
    design = with_value(design, "inner_leaf.upstand_thickness_mm", 5.0)
    push = 1.5 * 0.3 * 100 * G_M_S2
    stress = push * 52 / ((20 + 52) * 5**2 / 6)
    assert ratio_of(design, "inner-upstands") == pytest.approx(stress / (65 / 1.1), rel=2e-3)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_an_upstand_is_judged_at_its_limit(share: float) -> None:
    """Its moment goes by the square of the thickness that bears it."""
    design = with_value(written_starter(), "inner_leaf.upstand_thickness_mm", 6.0)
    used = ratio_of(design, "inner-upstands")
    thick = 6.0 * (used / share) ** 0.5
    found = check_of(with_value(design, "inner_leaf.upstand_thickness_mm", thick), "inner-upstands")
    assert found is not None
    assert found.ratio == pytest.approx(share)
    assert found.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)


def test_the_weld_of_a_thick_upstand_governs() -> None:
    """Two lines on a slat's end, s apart: H (h + s / 2) / (s l) and H / (2 l) on l = 72 mm x width / pitch;
    S355 with 3.5 mm of throat: 3.5 x 470 / (root 3 x 0.9 x 1.25).
    """
    design = one_wheel(written_starter())
    for path in ("made_of.upstands", "made_of.slats"):
        design = with_value(design, path, "steel S355")
    for path, value in (("upstand_thickness_mm", 30.0), ("slat_thickness_mm", 7.0)):
        design = with_value(design, f"inner_leaf.{path}", value)
    push, length = 1.5 * 0.3 * 100 * G_M_S2, (20 + 52) * 100 / 112
    line = push * (52 + 3.5) / (7 * length) + push / (2 * length)
    strength = 3.5 * 470 / (3**0.5 * 0.9 * 1.25)
    assert ratio_of(design, "inner-upstands") == pytest.approx(line / strength, rel=2e-3)


def test_upstands_on_timber_and_none_at_all() -> None:
    found = check_of(with_value(timber_ramp(), "made_of.upstands", "timber C24"), "inner-upstands")
    assert found is not None
    assert found.status is Status.UNJUDGED
    assert "across the grain" in found.why
    assert check_of(with_value(timber_ramp(), "inner_leaf.upstand_height_mm", 0.0), "inner-upstands") is None


def test_a_metal_upstand_screwed_to_the_ends_of_timber_slats() -> None:
    """Moments about the lower edge of a slat's end, 18 mm thick: two screws half way up it pull 2 H (52 +
    18) / 18 together; along the grain a screw has 1 / 1.2 of (8.38) (EN 1995-1-1, from memory).
    """
    design = with_value(one_wheel(timber_ramp()), "inner_leaf.upstand_thickness_mm", 40.0)
    push, d = 1.5 * 0.3 * 100 * G_M_S2, 5.0
    pull = push * (design.inner_leaf.upstand_height_mm + 18) / 9 / 2
    screw = 0.7 / 1.3 * 0.52 * d**0.5 * 35**0.9 * 350**0.8 / 1.2
    assert ratio_of(design, "inner-upstands") == pytest.approx(pull / screw, rel=2e-3)


def lifted(design: Design, width: float) -> Design:
    design = with_value(with_value(one_wheel(design), "inner_leaf.width_mm", width), "stop.count", 2)
    for leaf, lane in (("inner_leaf", 386.0), ("outer_leaf", 342.0)):  # over two rails slats share nothing
        design = with_value(design, f"{leaf}.rail_lanes_mm", (-lane, lane))
    return design


def test_a_screw_in_a_wall() -> None:
    """A wheel of 20 mm at the end of a slat that stands out 60 mm: P (60 - 10) / bay up at the next rail,
    on two screws M5, which go through 5.5 mm (ISO 273, medium): 0.45 d t fu / 1.25 each (EN 1993-1-3, table
    8.2, from memory).
    """
    design = lifted(timber_ramp(), 2 * (386 + 60))
    uplift = 1.5 * 100 * G_M_S2 * 50 / 772
    screw = 0.45 * 5 * 2 * 360 / 1.25
    assert ratio_of(design, "inner-fixings") == pytest.approx(uplift / (2 * screw), rel=1e-6)


@pytest.mark.parametrize("middle", [-100.0, 100.0])
def test_the_narrower_of_the_outer_bays_lifts_most(middle: float) -> None:
    """U = M / bay over an outer rail: the bay beside it, on either side."""
    design = timber_ramp()
    for leaf, lanes in (
        ("inner_leaf", (-386.0, middle, 386.0)),
        ("outer_leaf", (-342.0, middle + 44, 342.0)),
    ):
        design = with_value(design, f"{leaf}.rail_lanes_mm", lanes)
    part = {family.key: part for family, part in evaluate(design).fixed_on.parts}["inner-fixings"]
    assert isinstance(part, Fixings)
    assert part.bay_mm == 286


def test_a_screw_in_timber() -> None:
    """EN 1995-1-1, (8.38) and (8.39) (from memory): fax = 0.52 d^-0.5 lef^-0.1 rho^0.8 with 350 kg/m3 of C24
    (EN 338:2016), x 0.7 / 1.3.
    """
    design = with_value(lifted(timber_ramp(), 2 * (386 + 60)), "made_of.rails", "timber C24")
    for leaf in ("inner_leaf", "outer_leaf"):
        design = with_value(design, f"{leaf}.rail_section", parse_section("timber 95x45"))
    uplift, d = 1.5 * 100 * G_M_S2 * 50 / 772, 5.0
    strength = 0.52 * d**-0.5 * 35**-0.1 * 350**0.8
    assert strength == pytest.approx(17.9, abs=0.3)
    screw = 0.7 / 1.3 * strength * d * 35
    assert ratio_of(design, "inner-fixings") == pytest.approx(uplift / (2 * screw), rel=1e-6)


def test_slats_that_nothing_holds() -> None:
    bare = check_of(with_value(timber_ramp(), "workshop.slat_screw_mm", 0.0), "inner-fixings")
    assert bare is not None
    assert "Give the slats a screw hole" in bare.why
