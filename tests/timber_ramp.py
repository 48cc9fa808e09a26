"""A ramp for tests that count on its figures, whatever a new document begins with: timber slats, a short toe
flap.
"""

from dataclasses import replace

from written_starter import written_starter

from rampdraft.model.design import FREE, NO_ASSIST, Design, Leaf, Site, Stock, StopBars, Toe, WheeledUser
from rampdraft.model.section import Section


def timber_ramp() -> Design:
    """Return the ramp; its gradient at the flap and the opening at its joint exceed the limits of its rule
    sets.
    """
    start = written_starter()
    rail = Section(kind="box", depth_mm=40, width_mm=20, wall_mm=2)
    stop = Section(kind="flat", depth_mm=20, width_mm=24)
    return replace(
        start,
        carrier=replace(start.carrier, stow_out_mm=160),
        inner_leaf=_timber(start.inner_leaf, rail, 1350, (-386, 0, 386), (200, 675, 1150)),
        outer_leaf=_timber(start.outer_leaf, rail, 1300, (-342, 44, 342), (150, 650, 1130)),
        deck_hinge=replace(start.deck_hinge, below_mm=38),
        joint=replace(
            start.joint, height_mm=-43, knuckle_diameter_mm=30, knuckle_length_mm=42, pin_diameter_mm=12
        ),
        stop=StopBars(
            kind="butt",
            count=3,
            section=stop,
            fixed_to="inner",
            fixed_length_mm=80,
            lap_mm=60,
            arm_mm=40,
            gap_mm=0.5,
        ),
        toe=Toe(kind="flap", length_mm=180, thickness_mm=4, carried_deg=0),
        use=replace(
            start.use,
            rule_sets=("us-vehicle-2016", "france-vehicle"),
            users=(
                WheeledUser(
                    name="Visitor in a wheelchair",
                    kind="manual wheelchair",
                    mass_kg=150,
                    width_mm=700,
                    attendant_kg=75,
                ),
                WheeledUser(name="Book barrow", kind="barrow", mass_kg=120, width_mm=650),
            ),
        ),
        made_of=replace(
            start.made_of,
            rails="steel S235",
            slats="timber C24",
            upstands="steel S235",
            fittings="steel S235",
        ),
        sites=(
            Site(name="Level yard", kind="ground", ground_mm=((0, 0), (4000, 0))),
            Site(name="Kerb", kind="kerb", ground_mm=((0, 0), (300, 0), (300, 120), (4000, 120))),
        ),
        assist=NO_ASSIST,
        hold_down=FREE,
        stock=(
            Stock(section=rail, material="steel S235", length_mm=6000),
            Stock(
                section=Section(kind="timber", depth_mm=18, width_mm=95),
                material="timber C24",
                length_mm=3000,
            ),
            Stock(section=stop, material="steel S235", length_mm=3000),
        ),
    )


def _timber(
    leaf: Leaf, rail: Section, length_mm: float, lanes_mm: tuple[float, ...], crosses_mm: tuple[float, ...]
) -> Leaf:
    return replace(
        leaf,
        length_mm=length_mm,
        rail_section=rail,
        cross_section=rail,
        rail_lanes_mm=lanes_mm,
        cross_positions_mm=crosses_mm,
        slat_width_mm=95,
        slat_thickness_mm=18,
        slat_pitch_mm=105,
        slat_first_mm=4,
        slat_last_gap_mm=4,
        upstand_end_gap_mm=10,
    )
