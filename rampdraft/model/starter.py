"""The design that a new document begins with: an ordinary ramp for a deck 0.4 m up, backs together, with
butting stops.
"""

from dataclasses import replace

from rampdraft.model.design import (
    NO_ASSIST,
    USUAL_JOINING,
    About,
    BridgePlate,
    Carrier,
    DeckHinge,
    Design,
    Fold,
    Hands,
    HoldDown,
    Joint,
    Leaf,
    MadeOf,
    Prop,
    Rails,
    Road,
    Site,
    Stock,
    StopBars,
    Toe,
    Use,
    WheeledUser,
    Workshop,
)  # fmt: skip
from rampdraft.model.section import Section
from rampdraft.units import MM
from rampdraft.words.say import say


# long: a design written out, a line a value; in pieces it would read no better
def starter_design() -> Design:
    """Return a design that loads, folds and stands: the beginning of a new document. All spacings follow, and
    have the figures here that they come to.
    """
    rail = Section(kind="box", depth_mm=60, width_mm=40, wall_mm=2)
    cross = Section(kind="box", depth_mm=20, width_mm=20, wall_mm=2)
    stop = Section(kind="flat", depth_mm=20, width_mm=12)
    return Design(
        about=About(name=say("New ramp"), drawing_number="R1"),
        carrier=Carrier(
            deck_height_mm=420,
            deck_drop_mm=30,
            deck_length_mm=2600,
            deck_thickness_mm=40,
            opening_width_mm=1000,
            end_depth_mm=160,
            end_setback_mm=10,
            stow_height_mm=1500,
            stow_out_mm=220,
            stow_in_mm=80,
        ),
        rails=Rails(lanes="neighbouring", count=4),
        inner_leaf=_leaf(
            length_mm=1346,
            pitch_mm=112.54,
            rail=rail,
            cross=cross,
            lanes=(-410, -137, 137, 410),
            crosses=(224, 673, 1122),
            last_gap_mm=4,
            upstand_start_mm=29,
        ),
        outer_leaf=_leaf(
            length_mm=1330,
            pitch_mm=111.45,
            rail=rail,
            cross=cross,
            lanes=(-358, -85, 85, 358),
            crosses=(140, 420, 700),
            last_gap_mm=0,
            upstand_start_mm=4,
        ),
        deck_hinge=DeckHinge(
            height_mm=-20,
            knuckle_diameter_mm=30,
            knuckle_length_mm=42,
            pin_diameter_mm=12,
            running_clearance_mm=2,
            side_gap_mm=2,
            out_mm=44,
            below_mm=25,
        ),
        joint=Joint(
            height_mm=-63,
            knuckle_diameter_mm=60,
            knuckle_length_mm=50,
            pin_diameter_mm=20,
            running_clearance_mm=2,
            side_gap_mm=2,
        ),
        fold=Fold(closing="backs", closed_deg=180, stowed_deg=90, clearance_mm=3),
        stop=StopBars(
            kind="butt",
            bars="each_rail",
            count=4,
            section=stop,
            fixed_to="inner",
            fixed_length_mm=60,
            lap_mm=60,
            arm_mm=63,
            gap_mm=0.3,
        ),
        prop=Prop(
            fitted=False,
            section=Section(kind="box", depth_mm=30, width_mm=30, wall_mm=2),
            shortest_mm=100,
            longest_mm=200,
            foot_mm=100,
        ),
        toe=Toe(kind="taper", length_mm=620, thickness_mm=6, carried_deg=0, closed=True),
        bridge=BridgePlate(fitted=True, length_mm=160, over_deck_mm=80, thickness_mm=4),
        use=Use(
            rated_load_kg=300,
            rule_sets=("us-vehicle-2016",),
            wet_grip=60,
            users=(
                WheeledUser(
                    name=say("Visitor in a wheelchair"),
                    kind="manual wheelchair",
                    mass_kg=150,
                    width_mm=700,
                    attendant_kg=75,
                    footrest_height_mm=90,
                ),
                WheeledUser(
                    name=say("Book barrow"),
                    kind="barrow",
                    mass_kg=120,
                    width_mm=650,
                    attendant_kg=75,
                    wheelbase_mm=1200,
                    front_share_percent=65,
                    front_track_mm=0,
                    rear_track_mm=200,
                    tyre_width_mm=90,
                    tyre_contact_mm=80,
                    attendant_behind_mm=0,
                ),
            ),
        ),
        made_of=MadeOf(
            rails="steel S355",
            cross_members="steel S235",
            slats="aluminium 6082-T6",
            upstands="aluminium 6082-T6",
            fittings="steel S355",
        ),
        workshop=Workshop(kerf_mm=2.4, end_trim_mm=10, slat_screw_mm=5.5, tapers_together=True),
        joining=replace(USUAL_JOINING, weld_throat_mm=3.5),
        sites=(
            Site(name=say("Level yard"), kind="ground", ground_mm=((0, 0), (4000, 0))),
            Site(name=say("Kerb"), kind="kerb", ground_mm=((0, 0), (300, 0), (300, 120), (4000, 120))),
        ),
        assist=replace(NO_ASSIST, kind="torsion", count=2, rate_nmm_deg=2200, slack_deg=110),
        hold_down=HoldDown(latch=True),
        hands=Hands(stay=True),
        road=Road(latch_n=1500, second_n=1500),
        stock=(
            Stock(section=rail, material="steel S355", length_mm=6000),
            Stock(section=cross, material="steel S235", length_mm=6000),
            Stock(
                section=Section(kind="flat", depth_mm=8, width_mm=100),
                material="aluminium 6082-T6",
                length_mm=4000,
            ),
            Stock(
                section=Section(kind="flat", depth_mm=60, width_mm=5),
                material="aluminium 6082-T6",
                length_mm=4000,
            ),
            Stock(section=stop, material="steel S355", length_mm=3000),
            Stock(
                section=Section(kind="flat", depth_mm=4, width_mm=80), material="steel S355", length_mm=2000
            ),
            Stock(
                section=Section(kind="flat", depth_mm=2, width_mm=36), material="steel S355", length_mm=2000
            ),
            Stock(
                section=Section(kind="round", depth_mm=30, width_mm=30), material="steel S355", length_mm=3000
            ),
            Stock(
                section=Section(kind="round", depth_mm=60, width_mm=60), material="steel S355", length_mm=3000
            ),
            Stock(
                section=Section(kind="round", depth_mm=12, width_mm=12), material="steel S355", length_mm=3000
            ),
            Stock(
                section=Section(kind="round", depth_mm=20, width_mm=20), material="steel S355", length_mm=3000
            ),
        ),
    )


# many: what differs between the leaves
def _leaf(
    *,
    length_mm: MM,
    pitch_mm: MM,
    rail: Section,
    cross: Section,
    lanes: tuple[MM, ...],
    crosses: tuple[MM, ...],
    last_gap_mm: MM,
    upstand_start_mm: MM,
) -> Leaf:
    return Leaf(
        length_mm=length_mm,
        width_mm=860,
        rail_section=rail,
        rail_lanes_mm=lanes,
        cross_section=cross,
        cross_members="number",
        cross_count=3,
        cross_positions_mm=crosses,
        cross_fitting="between",
        half_lap_mm=0,
        slats="even",
        slat_greatest_gap_mm=12.8,
        slat_ends="clear",
        slat_width_mm=100,
        slat_thickness_mm=8,
        slat_pitch_mm=pitch_mm,
        slat_first_mm=4,
        slat_last_gap_mm=last_gap_mm,
        upstand_height_mm=52,
        upstand_thickness_mm=5,
        upstands="end_to_end",
        upstand_start_mm=upstand_start_mm,
        upstand_end_gap_mm=4,
    )
