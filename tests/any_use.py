"""Random surroundings of a ramp: grounds, supports, users, what stands in the way, materials and rules."""

import math
from dataclasses import replace
from typing import Any, get_args

from lots import PLAIN_WORDS, Lots

from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.geometry.buildable.fold import LEAST_GAS_SPRING_MM
from rampdraft.model.catalogue import materials as catalogue
from rampdraft.model.design import (
    About,
    Assist,
    CarrierBody,
    Design,
    FoldStage,
    Handle,
    Hands,
    HoldDown,
    Joining,
    MadeOf,
    Material,
    Obstacle,
    Price,
    Road,
    Site,
    Stock,
    Support,
    Use,
    UserClass,
    WheeledUser,
    Wishes,
    Workshop,
)
from rampdraft.model.section import Section
from rampdraft.units import MM

Points = tuple[tuple[MM, MM], ...]


def used(lots: Lots, design: Design) -> Design:
    """Return the ramp in surroundings drawn anew."""
    own = _materials(lots)
    names = [*(material.name for material in own), *(material.name for material in catalogue())]
    design = replace(
        design,
        about=About(
            name=lots.name(1, 80),
            drawing_number=lots.odd_words(20) if lots.chance(15) else lots.one("T7", "", "-3"),
            author=lots.odd_words(60) if lots.chance(15) else lots.one("Ferry crew", ""),
            note=lots.odd_words(200, lines=True) if lots.chance(15) else lots.one("", "a\nb"),
            paper=lots.one("A4", "A3"),
        ),
        use=_use(lots),
        made_of=MadeOf(
            rails=lots.one(*names),
            cross_members=lots.one(*names),
            slats=lots.one(*names),
            upstands=lots.one(*names),
            fittings=lots.one(*names),
        ),
        workshop=Workshop(
            kerf_mm=lots.number(0, 5, 3),
            end_trim_mm=lots.number(0, 50, 5),
            slat_screw_mm=lots.number(0, 10, 5),
            screw_held_mm=lots.number(5, 100, 35),
            least_offcut_mm=lots.number(0, 900, 300),
            tapers_together=lots.one(False, True),
        ),
        joining=Joining(
            weld_throat_mm=lots.number(1, 8, 3),
            bolt_size=lots.one("M10", "M5", "M6", "M8", "M12", "M16"),
            bolt_class=lots.one("8.8", "4.6", "5.6", "10.9"),
            bolt_count=lots.whole(1, 6),
            bolt_arm_mm=lots.number(5, 200, 40),
            bracket_section=lots.one(
                Section(kind="box", depth_mm=60, width_mm=40, wall_mm=4),
                Section(kind="flat", depth_mm=80, width_mm=12),
                Section(kind="round", depth_mm=30, width_mm=30),
            ),
            bracket_plate_mm=lots.number(2, 30, 10),
            bolt_beside_mm=lots.number(8, 100, 25),
            bolt_edge_mm=lots.number(5, 100, 20),
        ),
        sites=tuple(_site(lots, number, design) for number in range(1, lots.one(1, 2, 3) + 1)),
        materials=own,
    )
    return replace(
        design,
        supports=_supports(lots, design),
        carrier_body=_body(lots, design),
        assist=_assist(lots, design),
        hold_down=_hold_down(lots),
        handles=_handles(lots, design),
        hands=_hands(lots),
        road=_road(lots),
        obstacles=_obstacles(lots, design),
        fold_stages=_stages(lots, design),
        stock=_stock(lots, design),
        prices=_prices(lots),
        wishes=_wishes(lots),
    )


def _wishes(lots: Lots) -> Wishes:
    if not lots.chance(90):
        return Wishes()
    return Wishes(
        first=lots.one("light", "gentle", "cheap", "quick"),
        gentler_than=lots.number(0, 20, 0),
        welds=lots.one("steel", "aluminium", "both"),
        lathe=lots.chance(50),
        buys=lots.chance(50),
        steel_price=lots.number(0, 10, 2.5),
        aluminium_price=lots.number(0, 20, 8),
        timber_price=lots.number(0, 10, 3),
    )


# Grounds
# --------------------------------------------------------------------------------------


def _site(lots: Lots, number: int, design: Design) -> Site:
    lots.group()
    kind = lots.one("ground", "kerb", "platform")
    return Site(
        name=lots.name(number, 60),
        kind=kind,
        ground_mm=_ground(lots, kind, design.carrier.deck_height_mm),
        cross_slope_percent=lots.number(-6, 6, 0) if lots.chance(40) else 0.0,
        ground_bears_kpa=lots.number(20, 300, 100) if lots.chance(40) else 0.0,
    )


def _ground(lots: Lots, kind: str, deck_mm: MM) -> Points:
    """Return level ground, steps up and down, slopes either way, or a platform, above the deck too."""
    z = lots.number(0, 1.4 * deck_mm, 150) if kind == "platform" else lots.part(30, -150, 0.8 * deck_mm, 0)
    points = [(lots.part(30, -600, 800, 0), z)]
    for _ in range(lots.one(1, 0, 2, 3, 4)):
        x, z = points[-1]
        step = (
            len(points) > 1 and points[-2][0] == x
        )  # of three points one above another the last is not allowed
        if not step and lots.chance(45):
            rise = lots.number(5, 180, 120)
            points.append((x, z + rise * lots.one(1, -1)))
            continue
        going = lots.number(30, 3000, 1000)
        points.append((x + going, z + going * lots.one(0.0, 0.05, -0.05, 0.12, -0.12, 0.3)))
    return tuple((max(min(x, 20000.0), -20000.0), max(min(z, 20000.0), -20000.0)) for x, z in points)


# What the carrier stands on
# --------------------------------------------------------------------------------------


def _supports(lots: Lots, design: Design) -> tuple[Support, ...]:
    """Return nothing, or springs, bearers and jacks under both sides, now and then too few to stand on."""
    lots.group()
    if lots.chance(40):
        return ()
    length, width = design.carrier.deck_length_mm, design.carrier.opening_width_mm
    rows: list[Support] = []
    for _ in range(lots.one(2, 1, 2, 3)):
        back, across = lots.number(-100, length, length / 2), lots.number(100, 1200, width / 2)
        kind = lots.one("spring", "spring", "bearer", "jack")
        first = _support(lots, len(rows) + 1, kind, back, across)
        rows.append(first)
        if lots.chance(80):
            rows.append(replace(first, name=f"{first.name} right", across_mm=-across))
    return tuple(rows)


def _support(lots: Lots, number: int, kind: Any, back: MM, across: MM) -> Support:
    return Support(
        name=lots.name(number, 34),
        kind=kind,
        back_mm=back,
        across_mm=across,
        rate_n_mm=lots.one(30.0, 5.0, 80.0, 400.0, 5000.0),
        gap_mm=lots.number(0, 60, 5) if kind != "spring" and lots.chance(60) else 0.0,
        bump_mm=lots.number(0, 120, 60),
        extension_mm=lots.number(0, 120, 40),
        unsprung_kg=lots.number(0, 120, 0),
    )


def _body(lots: Lots, design: Design) -> CarrierBody:
    lots.group()
    length = design.carrier.deck_length_mm
    return CarrierBody(
        body_kg=lots.number(0, 3000, 500),
        body_back_mm=lots.number(0, length, length / 2),
        body_across_mm=lots.part(30, -300, 300, 0),
        cargo_kg=lots.number(0, 800, 200) if lots.chance(50) else 0.0,
        cargo_back_mm=lots.number(0, length, length / 2),
        cargo_across_mm=lots.part(30, -300, 300, 0),
        ballast_kg=lots.number(0, 300, 50) if lots.chance(30) else 0.0,
        ballast_back_mm=lots.number(0, length, length),
        ballast_across_mm=lots.part(30, -300, 300, 0),
        twist_mm=lots.number(0, 60, 20) if lots.chance(50) else 0.0,
        lean_limit_deg=lots.number(0.5, 8, 3),
        least_share_percent=lots.number(0, 60, 20),
    )


# Hands, springs and what stands in the way
# --------------------------------------------------------------------------------------


def _handles(lots: Lots, design: Design) -> tuple[Handle, ...]:
    lots.group()
    rows: list[Handle] = []
    flap = design.toe.length_mm if design.toe.kind == "flap" else 0.0
    for number in range(1, lots.one(0, 0, 1, 2, 3) + 1):
        leaf = lots.one("inner", "outer")
        end = design.inner_leaf.length_mm if leaf == "inner" else design.outer_leaf.length_mm + flap
        at, above = lots.number(0, end, end), lots.number(-150, 150, 0)
        rows.append(Handle(name=lots.name(number, 60), leaf=leaf, at_mm=at, above_mm=above))
    return tuple(rows)


def _hold_down(lots: Lots) -> HoldDown:
    """Return what holds the empty ramp down."""
    lots.group()
    return HoldDown(
        latch=lots.chance(50),
        pull_n=lots.number(1, 5000, 500),
        arm_mm=lots.number(1, 150, 40),
        demanded_n=lots.number(0, 200, 30),
        toe_held_mm=lots.number(0, 400, 100),
        rebound_m_s=lots.one(1.0, 0.0, 0.5, 3.0),
    )


def _hands(lots: Lots) -> Hands:
    """Return who folds it."""
    lots.group()
    return Hands(people=lots.whole(1, 6), person_n=lots.number(50, 500, 250), stay=lots.chance(50))


def _road(lots: Lots) -> Road:
    """Return what shakes it while it travels, and what holds it; now and then nothing does either."""
    lots.group()
    return Road(
        end=lots.one("rear", "front", "side"),
        forward_g=lots.one(0.8, 0.0, 1.0, 0.3),
        backward_g=lots.one(0.5, 0.0, 0.2),
        sideways_g=lots.one(0.5, 0.0, 0.7),
        wind_m_s=lots.number(0, 50, 30),
        latch_at_mm=lots.number(1, 3000, 900) if lots.chance(50) else 0.0,
        latch_n=lots.number(0, 20000, 2000),
        second_n=lots.number(0, 20000, 2000),
        held_n=lots.number(0, 5000, 1000),
    )


def _assist(lots: Lots, design: Design) -> Assist:
    """Return an assist spring; the eyes of a gas spring lie where they cannot meet."""
    lots.group()
    hinge = design.deck_hinge
    out, below = lots.number(-800, 100, -400), lots.number(-100, 400, 100)
    carrier = math.hypot(out - hinge.out_mm, hinge.below_mm - below)
    above = lots.number(-150, 100, -20)
    across = above - hinge.height_mm
    apart = lots.number(LEAST_GAS_SPRING_MM + 1, 800, 300)
    away = carrier - apart if lots.chance(40) and carrier - apart > abs(across) else carrier + apart
    return Assist(
        kind=lots.one("none", "torsion", "gas"),
        count=lots.whole(1, 4),
        rate_nmm_deg=lots.number(0, 6000, 500),
        slack_deg=lots.number(0, 180, 90),
        force_n=lots.number(0, 1500, 300),
        carrier_out_mm=out,
        carrier_below_mm=below,
        leaf_at_mm=math.sqrt(max(away**2 - across**2, 0)),
        leaf_above_mm=above,
    )


def _obstacles(lots: Lots, design: Design) -> tuple[Obstacle, ...]:
    lots.group()
    rows: list[Obstacle] = []
    for number in range(1, lots.one(0, 0, 0, 1, 2) + 1):
        left = lots.number(-800, 700, -100)
        right = left + lots.number(1, 800, 200)
        outline = _outline(lots, design)
        rows.append(Obstacle(name=lots.name(number, 60), outline_mm=outline, left_mm=left, right_mm=right))
    return tuple(rows)


def _outline(lots: Lots, design: Design) -> Points:
    """Return a bar, or corners round a middle: each in its own sector, so no sides cross. Slivers too."""
    x = lots.number(-600, 1500, -200)
    z = lots.number(-design.carrier.deck_height_mm, 1200, 300)
    corners, sliver = lots.one(4, 2, 3, 5), lots.one(1.0, 1.0, 0.02)
    first = lots.whole(0, 359)
    points: list[tuple[MM, MM]] = []
    for corner in range(corners):
        angle = math.radians(first + (corner + lots.whole(-30, 30) / 100) * 360 / corners)
        size = lots.number(15, 200, 50)
        points.append((x + size * math.cos(angle), z + sliver * size * math.sin(angle)))
    return tuple(points)


def _stages(lots: Lots, design: Design) -> tuple[FoldStage, ...]:
    """Return no stages of one's own, or some of which the last one closes the ramp, or does not."""
    lots.group()
    if lots.chance(70):
        return ()
    fold = design.fold
    closed = fold.closed_deg if fold.closing == "faces" else -fold.closed_deg
    stages = [
        FoldStage(
            say=lots.name(number, 160),
            inner_deg=lots.number(-30, 120, 0),
            fold_deg=lots.number(-150, 150, 0),
            via_deg=tuple(
                (lots.number(-30, 120, 20), lots.number(-150, 150, 0)) for _ in range(lots.one(0, 0, 1, 2))
            ),
        )
        for number in range(1, lots.one(0, 1, 2) + 1)
    ]
    last = FoldStage(say="Lift and turn it in.", inner_deg=fold.stowed_deg, fold_deg=closed)
    return (*stages, last) if not stages or lots.chance(80) else tuple(stages)


# Who uses it, and what it is made of
# --------------------------------------------------------------------------------------


def _use(lots: Lots) -> Use:
    lots.group()
    sets = [one.key for one in builtin_rule_sets()]
    chosen = [lots.one(*sets) for _ in range(lots.one(1, 0, 2, 3))]
    return Use(
        rated_load_kg=lots.number(50, 1000, 300),
        rule_sets=tuple(dict.fromkeys(chosen)),
        users=tuple(_user(lots, number) for number in range(1, lots.one(1, 0, 2, 3) + 1)),
        bump_factor=lots.one(1.25, 1.0, 1.6, 3.0),
        overall_factor=lots.one(3.0, 1.0, 2.0, 6.0),
        sag_limit=lots.number(50, 400, 100),
        crossings=lots.one(100000.0, 0.0, 1000.0, 5e6),
        service_class=lots.one("3", "2", "1"),
        wet_grip=lots.number(0, 120, 60),
    )


def _user(lots: Lots, number: int) -> WheeledUser:
    lots.group()
    return WheeledUser(
        name=lots.name(number, 60),
        kind=lots.one(*get_args(UserClass)),
        mass_kg=lots.number(5, 500, 150),
        width_mm=lots.number(300, 1200, 700),
        attendant_kg=lots.number(0, 150, 75) if lots.chance(60) else 0.0,
        wheelbase_mm=(wheelbase := lots.number(100, 2000, 450)),
        front_share_percent=lots.number(0, 100, 40) if (two := lots.chance(85)) else lots.number(0, 40, 30),
        middle_share_percent=0.0 if two else lots.number(10, 60, 50),
        middle_behind_mm=0.0 if two else lots.number(10, wheelbase - 10, 60),
        mass_centre_height_mm=lots.number(100, 1500, 650) if lots.chance(50) else 0.0,
        front_track_mm=lots.number(50, 1000, 500) if lots.chance(70) else 0.0,
        rear_track_mm=lots.number(50, 1000, 560) if lots.chance(80) else 0.0,
        tyre_width_mm=lots.number(5, 150, 25),
        tyre_contact_mm=lots.number(5, 150, 25),
        attendant_behind_mm=lots.number(0, 1200, 500),
        **_own_shape(lots),
    )


def _own_shape(lots: Lots) -> dict[str, Any]:
    """Return what a user may have of its own, or leave to its class."""
    if lots.chance(50):
        return {}
    return {
        "front_radius_mm": lots.part(50, 10, 400, 100),
        "middle_radius_mm": lots.part(50, 10, 400, 160),
        "rear_radius_mm": lots.part(50, 10, 400, 300),
        "front_tyre_mm": lots.part(50, 5, 150, 30),
        "underside_mm": lots.part(50, 1, 400, 80),
        "footrest_ahead_mm": lots.part(50, 1, 600, 300),
        "footrest_height_mm": lots.part(50, 1, 600, 60),
        "footrest_depth_mm": lots.part(50, 1, 500, 150),
        "anti_tip_behind_mm": lots.part(50, 1, 600, 250),
        "anti_tip_height_mm": lots.part(50, 1, 600, 40),
        "push_height_mm": lots.part(50, 300, 1500, 900),
        "driven": lots.one("class", "none", "front", "middle", "rear"),
        "braked": lots.one("class", "none", "front", "middle", "rear"),
        "drive_n": lots.part(50, 1, 3000, 500),
        "head_height_mm": lots.part(50, 300, 2200, 1400),
    }


def _materials(lots: Lots) -> tuple[Material, ...]:
    """Return own materials: strengths known or not, one now and then named as one of the catalogue."""
    lots.group()
    rows: list[Material] = []
    for number in range(1, lots.one(0, 1, 2) + 1):
        known = lots.chance(70)
        kind = lots.one("steel", "aluminium", "timber", "plastic")
        name = "steel S235" if number == 1 and lots.chance(10) else lots.name(number, 40)
        metal = known and kind in ("steel", "aluminium")
        ultimate = lots.number(150, 800, 360)
        rows.append(
            Material(
                name=name,
                kind=kind,
                density_kg_m3=lots.number(300, 9000, 2700),
                source=lots.one("", *PLAIN_WORDS),
                yield_mpa=lots.number(80, ultimate, 235) if metal else 0.0,
                ultimate_mpa=ultimate if metal else 0.0,
                welded_yield_mpa=lots.number(50, 200, 100) if metal and lots.chance(60) else 0.0,
                welded_ultimate_mpa=lots.number(80, 300, 160) if metal and lots.chance(60) else 0.0,
                bending_mpa=lots.number(5, 60, 24) if known and kind == "timber" else 0.0,
                shear_mpa=lots.number(0.5, 8, 4) if known and kind == "timber" else 0.0,
                elastic_mpa=lots.one(11000.0, 70000.0, 210000.0) if known else 0.0,
            )
        )
    return tuple(rows)


def _prices(lots: Lots) -> tuple[Price, ...]:
    """Return prices of some things that are bought, the same twice, and of what nobody buys."""
    items = ("F1", "F3", "F4", "DW1", "IL2", "nothing", "F99")
    return tuple(
        Price(item=lots.one(*items), each=lots.number(0, 20, 1.5)) for _ in range(lots.one(0, 1, 2, 4))
    )


def _stock(lots: Lots, design: Design) -> tuple[Stock, ...]:
    """Return stock for some of the members: long enough, short, the same twice, and what nobody needs."""
    lots.group()
    flat = Section(kind="flat", depth_mm=6, width_mm=100)
    bought = (
        (design.inner_leaf.rail_section, design.made_of.rails),
        (design.outer_leaf.rail_section, design.made_of.rails),
        (design.inner_leaf.cross_section, design.made_of.cross_members),
        (design.stop.section, design.made_of.fittings),
        (flat, design.made_of.slats),
    )
    rows: list[Stock] = []
    for _ in range(lots.one(2, 0, 1, 3, 5)):
        section, material = lots.one(*bought)
        rows.append(
            Stock(
                section=section,
                material=material,
                length_mm=lots.number(300, 6500, 6000),
                in_hand=lots.whole(0, 3),
                price=lots.number(0, 90, 0),
            )
        )
    return tuple(rows)
