"""Which values are tried for which check: those that a builder changes, never the place or the users.

A value is written as its path. `+` or `-` before it says which way it can help, where that is known; `{leaf}`
stands for the leaf that the check speaks of, or for each and both alike; `~` is the way that takes the joint
from the sides that meet. Sections, materials, choices and switches are tried with what else they can be.
"""

import re
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import Check
from rampdraft.geometry.members.member import Kin
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import BOTH_LEAVES, SPRINGS, paths_of
from rampdraft.model.spacing import follows, idle, worked_out_from

_SPRINGS: Final = ("-assist.rate_nmm_deg", "-assist.slack_deg", "-assist.force_n", "-assist.count")
_MORE_SPRING: Final = ("+assist.rate_nmm_deg", "+assist.force_n", "+assist.count", "assist.kind")
_HANDS: Final = (*_MORE_SPRING, "-{leaf}.slat_thickness_mm", "{leaf}.rail_section", "+hands.people")
_LENGTHS: Final = ("+inner_leaf.length_mm", "+outer_leaf.length_mm")
_SHORTER: Final = ("-inner_leaf.length_mm", "-outer_leaf.length_mm")
_HOLD: Final = ("prop.fitted", "stop.kind", "fold.closing")
_SLATS: Final = ("+{leaf}.slat_thickness_mm", "+{leaf}.slat_width_mm", "made_of.slats", "+rails.count")
_CROSS: Final = (
    "{leaf}.cross_section",
    "made_of.cross_members",
    "+joining.weld_throat_mm",
    "+{leaf}.cross_count",
    "-{leaf}.cross_greatest_mm",
)
_RAILS: Final = (
    "{leaf}.rail_section",
    "+rails.count",
    "made_of.rails",
    "-{leaf}.length_mm",
    "prop.fitted",
    "toe.closed",
    "-toe.length_mm",
)
_STOP: Final = (
    "stop.section",
    "+stop.arm_mm",
    "+joining.weld_throat_mm",
    "+stop.lap_mm",
    "+stop.fixed_length_mm",
    "+stop.count",
    "made_of.fittings",
    "prop.fitted",
)
_JOINT_PINS: Final = (
    "+joint.pin_diameter_mm",
    "+stop.arm_mm",
    "+joint.knuckle_length_mm",
    "-joint.side_gap_mm",
    "made_of.fittings",
    "prop.fitted",
)
_DECK_PINS: Final = (
    "+deck_hinge.pin_diameter_mm",
    "+deck_hinge.knuckle_length_mm",
    "-deck_hinge.side_gap_mm",
    "made_of.fittings",
)
_WELDS: Final = ("+joining.weld_throat_mm", "made_of.fittings", "made_of.rails")
_GUARDS: Final = (
    "+{leaf}.upstand_thickness_mm",
    "-{leaf}.upstand_height_mm",
    "made_of.upstands",
    "+workshop.screw_held_mm",
    "+joining.weld_throat_mm",
)
_HELD: Final = (
    "-{leaf}.width_mm",
    "workshop.slat_screw_mm",
    "+workshop.screw_held_mm",
    "{leaf}.rail_section",
)
_JOINT_WELDS: Final = (
    *_WELDS,
    "+stop.arm_mm",
    "{leaf}.rail_section",
    "+joint.knuckle_length_mm",
    "+joint.knuckle_diameter_mm",
    "prop.fitted",
)
_DECK_WELDS: Final = (*_WELDS, "+deck_hinge.knuckle_length_mm", "+deck_hinge.knuckle_diameter_mm")
_BOLTS: Final = (
    "joining.bolt_size",
    "joining.bolt_class",
    "+joining.bolt_count",
    "+joining.bolt_arm_mm",
    "+joining.bracket_plate_mm",
    "-joining.bolt_beside_mm",
    "-deck_hinge.out_mm",
)
_STUBS: Final = (
    "joining.bracket_section",
    "+joining.weld_throat_mm",
    "-deck_hinge.out_mm",
    "+deck_hinge.knuckle_length_mm",
    "made_of.fittings",
)
_OPENING: Final = (
    "-{leaf}.slat_pitch_mm",
    "+{leaf}.slat_width_mm",
    "-outer_leaf.slat_first_mm",
    "-inner_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_last_gap_mm",
)
_BRIDGE: Final = ("bridge.length_mm", "bridge.over_deck_mm", "deck_hinge.below_mm", "-deck_hinge.out_mm")
_DECK_EDGE: Final = ("bridge.length_mm", "-deck_hinge.out_mm", "-inner_leaf.slat_first_mm", "bridge.fitted")
_STEP: Final = {
    "deck-edge": (
        "deck_hinge.below_mm",
        "deck_hinge.height_mm",
        "inner_leaf.slat_thickness_mm",
        "bridge.fitted",
        "bridge.length_mm",
    ),
    "joint": ("-joint.height_mm", "-joint.knuckle_diameter_mm", "{leaf}.slat_thickness_mm"),
    "toe": ("-outer_leaf.slat_thickness_mm", "toe.kind", "-toe.thickness_mm"),
}
_UPSTAND: Final = ("+{leaf}.upstand_height_mm",)
_STOWED_OUT: Final = (
    "joint.height_mm",
    "-deck_hinge.out_mm",
    "+fold.stowed_deg",
    "-{leaf}.upstand_height_mm",
)
_STOWED_IN: Final = ("joint.height_mm", "+deck_hinge.out_mm", "-fold.stowed_deg", "-{leaf}.upstand_height_mm")
_ATTACHED: Final = {
    "latch": ("road.latch_at_mm", "+hold_down.pull_n", "+road.latch_n"),
    "latch-hook": ("road.latch_at_mm", "+hold_down.pull_n", "+road.latch_n"),
    "cross": ("{leaf}.cross_section", "-toe.length_mm", "{leaf}.cross_fitting", "-joining.weld_throat_mm"),
    "slats": (
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
        "-{leaf}.slat_width_mm",
        "-workshop.slat_screw_mm",
    ),
    "upstands": ("-{leaf}.upstand_start_mm", "-{leaf}.upstand_end_gap_mm", "+{leaf}.slat_width_mm"),
    "deck-knuckles": (
        "deck_hinge.height_mm",
        "+deck_hinge.knuckle_diameter_mm",
        "+deck_hinge.knuckle_length_mm",
    ),
    "joint-knuckles": (
        "joint.height_mm",
        "+joint.knuckle_diameter_mm",
        "+joint.knuckle_length_mm",
        "{leaf}.knuckle_shift_mm",
    ),
    "stop": (
        "stop.arm_mm",
        "+stop.fixed_length_mm",
        "-stop.gap_mm",
        "joint.height_mm",
        "-joining.weld_throat_mm",
    ),
}
_THROUGH: Final = {
    "latch": ("road.latch_at_mm", "-road.latch_n", "-road.second_n", "-hold_down.pull_n"),
    "latch-hook": ("road.latch_at_mm", "-road.latch_n", "-road.second_n", "-hold_down.pull_n"),
    "stop-bar": (
        "stop.arm_mm",
        "-stop.fixed_length_mm",
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
        "+{leaf}.upstand_start_mm",
        "+{leaf}.upstand_end_gap_mm",
    ),
    "knuckle": (
        "-joint.height_mm",
        "-joint.knuckle_diameter_mm",
        "-deck_hinge.height_mm",
        "-deck_hinge.knuckle_diameter_mm",
        "+{leaf}.slat_first_mm",
        "+{leaf}.slat_last_gap_mm",
    ),
    "toe-flap": ("toe.carried_deg", "toe.kind"),
}
_GRIP: Final = ("+use.wet_grip",)
_PUSHERS: Final = ("+hands.people",)
_ROLLED_EDGE: Final = (
    "bridge.length_mm",
    "bridge.over_deck_mm",
    "-bridge.thickness_mm",
    "bridge.fitted",
    "deck_hinge.below_mm",
    "deck_hinge.height_mm",
    "-deck_hinge.out_mm",
    "-inner_leaf.slat_first_mm",
)
_ROLLED_JOINT: Final = (
    "joint.height_mm",
    "-joint.knuckle_diameter_mm",
    "-stop.arm_mm",
    "-inner_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_first_mm",
    "-{leaf}.slat_pitch_mm",
    "+{leaf}.slat_width_mm",
)
_ROLLED_TOE: Final = (
    "+toe.length_mm",
    "toe.kind",
    "-toe.thickness_mm",
    "-outer_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_thickness_mm",
    "-deck_hinge.below_mm",
)
_ROLLED: Final = {
    "": (),
    "deck": _ROLLED_EDGE,
    "edge": _ROLLED_EDGE,
    "inner": _ROLLED_JOINT,
    "joint": _ROLLED_JOINT,
    "outer": (*_ROLLED_TOE, "-outer_leaf.slat_pitch_mm", "+outer_leaf.slat_width_mm"),
    "toe": _ROLLED_TOE,
    "ground": _ROLLED_TOE,
}
"""By the place where somebody grounds, tips or is stopped."""
_ROLLS: Final = {
    "clears": (),
    "climbs": (),
    "drives": _GRIP,
    "slides": _GRIP,
    "motor": (),
    "tips": (),
    "head": (),
    "start": _PUSHERS,
    "keep": (*_PUSHERS, "+toe.length_mm", "toe.kind", "-deck_hinge.below_mm"),
}
_TABLE: Final[dict[str, tuple[str, ...]]] = {
    "gradient": _LENGTHS,
    "gradient/bridge": _BRIDGE,
    "leaf_gradient": _LENGTHS,
    "flap_gradient": ("+toe.length_mm", "-toe.thickness_mm"),
    "cross_slope": (),
    "grade_change": (*_LENGTHS, "+toe.length_mm"),
    "rise": (),
    "going": _SHORTER,
    "clear_width": ("+{leaf}.width_mm",),
    "surface_width": ("+{leaf}.width_mm",),
    "opening": _OPENING,
    "vehicle_gap": _DECK_EDGE,
    **{f"step/{part}": paths for part, paths in _STEP.items()},
    "deck_step": _STEP["deck-edge"],
    "joint_step": _STEP["joint"],
    "toe_step": _STEP["toe"],
    "edge_height": _UPSTAND,
    "edge_gap": ("-outer_leaf.upstand_start_mm", "-inner_leaf.upstand_end_gap_mm", "joint.height_mm"),
    "edge_end": ("-outer_leaf.upstand_end_gap_mm", "-toe.length_mm"),
    "side_stop": _UPSTAND,
    "tracks": (),
    "joint_held": _HOLD,
    "rated_load": ("+use.rated_load_kg",),
    "deploying_force": (
        *_MORE_SPRING,
        "-{leaf}.slat_thickness_mm",
        "-outer_leaf.length_mm",
        "-inner_leaf.length_mm",
    ),
    "own/held": _HOLD,
    **{
        f"own/attached/{leaf}-{part}": paths
        for leaf in ("inner", "outer")
        for part, paths in _ATTACHED.items()
    },
    **{f"own/through/{part}": paths for part, paths in _THROUGH.items()},
    "own/latch-line": ("hold_down.arm_mm",),
    "own/stop": ("stop.arm_mm", "stop.kind"),
    "own/stowed/height": (*_SHORTER, "+deck_hinge.below_mm", "-fold.stowed_deg"),
    "own/stowed/out": _STOWED_OUT,
    "own/stowed/in": _STOWED_IN,
    "own/ends-stowed": ("fold.stowed_deg",),
    "own/toe": (*_LENGTHS, "toe.kind", "-deck_hinge.below_mm"),
    "own/prop": ("-prop.shortest_mm", "+prop.longest_mm"),
    "own/prop-short": ("-prop.pin_diameter_mm", "+prop.slack_mm"),
    "own/bridge": _BRIDGE,
    "own/bridge-room": (
        "-bridge.length_mm",
        "+bridge.over_deck_mm",
        "bridge.turned_back",
        "-fold.stowed_deg",
    ),
    "own/opening": ("-{leaf}.width_mm", "-{leaf}.upstand_thickness_mm"),
    "own/user-width": ("+{leaf}.width_mm",),
    "own/user-load": ("+use.rated_load_kg",),
    "own/user-tips": _LENGTHS,
    "own/roll-width": ("+{leaf}.width_mm", "-{leaf}.upstand_thickness_mm"),
    **{
        f"own/roll-{name}/{place}".rstrip("/"): (*paths, *_LENGTHS, *more)
        for place, paths in _ROLLED.items()
        for name, more in _ROLLS.items()
    },
    "own/stays-down/joint": ("hold_down.latch", "+hold_down.pull_n", "+hold_down.arm_mm", *_SPRINGS),
    "own/stays-down/toe": _SPRINGS,
    "own/falls-back": ("hold_down.latch", "+hold_down.pull_n", "+hold_down.arm_mm", *_SPRINGS),
    "own/rebound": ("hold_down.latch", *_SPRINGS),
    "own/hands": _HANDS,
    "own/fall": ("hands.stay", "+hands.people", *_MORE_SPRING),
    "own/stow-latch": ("+road.latch_n", "+road.latch_at_mm"),
    "own/second-lock": ("+road.second_n", "+road.latch_at_mm"),
    "own/stow-leans": ("+fold.stowed_deg", "+deck_hinge.out_mm", *_MORE_SPRING),
    "own/carrier-held": ("+road.held_n",),
    "own/grip": ("+use.wet_grip", *_LENGTHS),
    "own/aside/tips": (),
    "own/aside/slides": ("+use.wet_grip",),
    "own/toe-slides": (),
    "own/crowd": ("+use.rated_load_kg",),
    "own/strength/inner-rails": _RAILS,
    "own/strength/outer-rails": _RAILS,
    "own/strength/inner-slats": _SLATS,
    "own/strength/outer-slats": _SLATS,
    "own/strength/inner-cross": _CROSS,
    "own/strength/outer-cross": _CROSS,
    "own/strength/bridge": (
        "deck_hinge.below_mm",
        "+bridge.thickness_mm",
        "-bridge.length_mm",
        "+bridge.over_deck_mm",
        "made_of.fittings",
    ),
    "own/strength/flap": ("+toe.thickness_mm", "-toe.length_mm", "made_of.fittings"),
    "own/strength/bridge-hinge": (
        "+bridge.hinge_pin_mm",
        "-bridge.hinge_knuckle_mm",
        "+bridge.hinge_knuckle_mm",
        "+joining.weld_throat_mm",
        "made_of.fittings",
    ),
    "own/strength/bridge-screws": ("+bridge.screws", "bridge.screw_size", "-bridge.length_mm"),
    "own/strength/flap-hinge": (
        "+toe.hinge_pin_mm",
        "toe.hinge_knuckle_mm",
        "+joining.weld_throat_mm",
        "made_of.fittings",
    ),
    "own/strength/stop": _STOP,
    "own/strength/lap-tip": ("+stop.lap_mm", "{leaf}.rail_section", "made_of.rails", "prop.fitted"),
    "own/strength/joint-pins": _JOINT_PINS,
    "own/strength/deck-pins": _DECK_PINS,
    "own/strength/joint-knuckles": _JOINT_WELDS,
    "own/strength/deck-knuckles": _DECK_WELDS,
    "own/strength/inner-upstands": _GUARDS,
    "own/strength/outer-upstands": _GUARDS,
    "own/strength/inner-fixings": _HELD,
    "own/strength/outer-fixings": _HELD,
    "own/crossings/inner-rails": _RAILS,
    "own/crossings/outer-rails": _RAILS,
    **{
        f"own/crossings/{leaf}-{part}": paths
        for leaf in ("inner", "outer")
        for part, paths in (("slats", _SLATS), ("fixings", _HELD), ("upstands", _GUARDS))
    },
    "own/crossings/stop": _STOP,
    "own/crossings/joint-knuckles": _JOINT_WELDS,
    "own/crossings/deck-knuckles": _DECK_WELDS,
    "own/strength/bolts": _BOLTS,
    "own/strength/bracket": _STUBS,
    "own/bolt-edge": ("+joining.bolt_edge_mm", "joining.bolt_size"),
    "own/strength/prop": ("prop.section", "made_of.rails", "-prop.longest_mm"),
    "own/strength/foot": ("-prop.foot_mm", "made_of.fittings"),
    "own/sag": ("{leaf}.rail_section", *_SHORTER, "-stop.gap_mm", "prop.fitted"),
    "own/ground/toe": ("+toe.length_mm", "toe.kind", "{leaf}.rail_section"),
    "own/ground/prop": ("+prop.foot_mm",),
}
"""By the quantity of a rule, or the beginning of the id of one of the program's own checks; the longest that
fits counts.
"""

Trait = tuple[str, str]
"""Body (any, where empty) and role, or hinge line, of one side of a pair."""

_OF_PAIR: Final[tuple[tuple[tuple[Trait, ...], tuple[str, ...]], ...]] = (
    ((("", "deck"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    ((("", "carrier end"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    ((("carrier", "knuckle"),), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    ((("", "bridge plate"),), ("bridge.turned_back", "-bridge.length_mm", "+bridge.over_deck_mm")),
    ((("", "ground"),), ("-deck_hinge.below_mm", "-toe.length_mm")),
    (
        (("inner", "edge upstand"), ("outer", "edge upstand")),
        ("~joint.height_mm", "-inner_leaf.upstand_height_mm", "-outer_leaf.upstand_height_mm"),
    ),
    ((("inner", "slat"), ("outer", "slat")), ("~joint.height_mm",)),
    (
        (("inner", "edge upstand"),),
        ("+inner_leaf.upstand_start_mm", "+inner_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (
        (("outer", "edge upstand"),),
        ("+outer_leaf.upstand_start_mm", "+outer_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (
        (("", "stop bar"),),
        ("stop.fixed_length_mm", "outer_leaf.slat_first_mm", "inner_leaf.slat_last_gap_mm"),
    ),
    (
        (("inner", "slat"),),
        ("~joint.height_mm", "+inner_leaf.slat_first_mm", "+inner_leaf.slat_last_gap_mm"),
    ),
    ((("outer", "slat"),), ("~joint.height_mm", "+outer_leaf.slat_first_mm")),
    ((), ("~joint.height_mm",)),
)
"""For a pair of the fold, besides the closing: those of the first line whose traits its sides have."""

_FALLBACK: Final = (
    *_LENGTHS,
    *_SHORTER,
    "joint.height_mm",
    "deck_hinge.height_mm",
    "deck_hinge.out_mm",
    "deck_hinge.below_mm",
)
_STEADY: Final = {
    "own/carrier-tips": ("+carrier_body.ballast_kg",),
    "own/carrier-share": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "own/carrier-rocks": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "own/carrier-twist": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "own/carrier-lean": (f"+{SPRINGS}",),
    "own/carrier-nod": (f"+{SPRINGS}",),
    "own/carrier-drop": (f"+{SPRINGS}", "-carrier_body.ballast_kg"),
    "own/carrier-stands": (),
}
"""For the carrier: more weight holds it down, softer springs follow the ground, stiffer ones give less."""

_LEAF: Final = re.compile(r"(inner|outer)_leaf\.")
_LEAVES: Final = {"inner": "inner_leaf.", "outer": "outer_leaf.", "both": BOTH_LEAVES}


def candidates_of(check: Check, design: Design) -> tuple[str, ...]:
    """Return what is tried for a failing check, each once: path, with `+` or `-` before it where only one way
    can help.
    """
    about, leaves = check.about, leaves_of(check)
    if about.pair is not None:
        found = _for_pair(about.pair)
    elif about.kind in _STEADY:
        found = (*_STEADY[about.kind], *_supports(design))
    elif isinstance(QUANTITIES.get(about.kind), LoadQuantity):
        # The worst member judges the load of a rule, so only what strengthens that one can help.
        found = _TABLE.get(f"own/strength/{about.part}", _FALLBACK)
    else:
        found = _TABLE.get(f"{about.kind}/{about.part}", _TABLE.get(about.kind, _FALLBACK))
    away = "+" if design.fold.closing == "faces" else "-"
    paths = (path.replace("{leaf}.", leaf).replace("~", away) for path in found for leaf in leaves)
    return tuple(dict.fromkeys(one for path in paths for one in _typed(design, path)))


def _typed(design: Design, signed: str) -> Iterator[str]:
    """Yield a value that is tried, with its sign; where it follows from others, what it is worked out from,
    and nothing where it would be worked out from nothing.
    """
    path = signed.lstrip("+-")
    sign, every = signed.removesuffix(path), paths_of(design, path)
    if not any(follows(design, one) for one in every):
        if not idle(design) & {*every}:
            yield signed
        return
    both = path.startswith(BOTH_LEAVES)
    sources = [
        {_LEAF.sub(BOTH_LEAVES, source) if both else source for source in worked_out_from(design, one)}
        for one in every
    ]
    yield from (f"{sign}{source}" for source in sorted(set[str].intersection(*sources)))


def leaves_of(check: Check) -> tuple[str, ...]:
    """Return what stands for `{leaf}.` of a check: the leaf that it speaks of, or each and both alike; both
    besides for the load of a rule.
    """
    about = check.about
    leaves = (about.leaf,) if about.leaf else ("inner", "outer", "both")
    both = ("both",) if isinstance(QUANTITIES.get(about.kind), LoadQuantity) else ()
    return tuple(_LEAVES[leaf] for leaf in dict.fromkeys((*leaves, *both)))


def _for_pair(pair: tuple[Kin, Kin]) -> tuple[str, ...]:
    fits = (paths for traits, paths in _OF_PAIR if all(any(_has(kin, one) for kin in pair) for one in traits))
    return (*next(fits), "fold.closing")


def _has(kin: Kin, trait: Trait) -> bool:
    body, what = trait
    return body in ("", kin.body) and what in (kin.role, kin.hinge)


def _supports(design: Design) -> Iterator[str]:
    if design.carrier_body.ballast_kg:
        yield "carrier_body.ballast_back_mm"
    for number, support in enumerate(design.supports, start=1):
        if support.kind != "spring" and support.gap_mm:
            yield f"-supports[{number}].gap_mm"
