"""Which values are tried for which check: those that a builder changes, never the place or the users.

A value is written as its path. `+` or `-` before it says which way it can help, where that is known; `{leaf}`
stands for the leaf that the check speaks of, or for each and both alike; `~` is the way that takes the joint
from the sides that meet. Sections, materials, choices and switches are tried with what else they can be.
"""

from collections.abc import Iterator
from typing import Final

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import Check
from rampdraft.checks.rules.rule import RuleSet
from rampdraft.explore.ways_out.trial import CARRIER, CLEARANCE, limit_of
from rampdraft.model.design import Design
from rampdraft.model.fields.alike import BOTH_LEAVES, SPRINGS

_LENGTHS: Final = ("+inner_leaf.length_mm", "+outer_leaf.length_mm")
_SHORTER: Final = ("-inner_leaf.length_mm", "-outer_leaf.length_mm")
_HOLD: Final = ("prop.fitted", "stop.kind", "fold.closing")
_SLATS: Final = ("+{leaf}.slat_thickness_mm", "+{leaf}.slat_width_mm", "made_of.slats")
_CROSS: Final = ("{leaf}.cross_section", "made_of.cross_members", "+joining.weld_throat_mm")
_RAILS: Final = (
    "{leaf}.rail_section",
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
_BOLTS: Final = ("joining.bolt_size", "joining.bolt_class", "+joining.bolt_count", "+joining.bolt_arm_mm")
_OPENING: Final = (
    "-{leaf}.slat_pitch_mm",
    "+{leaf}.slat_width_mm",
    "-outer_leaf.slat_first_mm",
    "-inner_leaf.slat_last_gap_mm",
    "-outer_leaf.slat_last_gap_mm",
)
_DECK_EDGE: Final = ("-deck_hinge.out_mm", "-inner_leaf.slat_first_mm", "bridge.fitted")
_STEP: Final = {
    "deck-edge": (
        "deck_hinge.below_mm",
        "deck_hinge.height_mm",
        "inner_leaf.slat_thickness_mm",
        "bridge.fitted",
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
_TABLE: Final[dict[str, tuple[str, ...]]] = {
    "gradient": _LENGTHS,
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
    "deploying_force": ("-{leaf}.slat_thickness_mm", "-outer_leaf.length_mm", "-inner_leaf.length_mm"),
    "own/held": _HOLD,
    "own/stop": ("stop.arm_mm", "stop.kind"),
    "own/stowed/height": (*_SHORTER, "+deck_hinge.below_mm", "-fold.stowed_deg"),
    "own/stowed/out": _STOWED_OUT,
    "own/stowed/in": _STOWED_IN,
    "own/ends-stowed": ("fold.stowed_deg",),
    "own/toe": (*_LENGTHS, "toe.kind", "-deck_hinge.below_mm"),
    "own/prop": ("-prop.shortest_mm", "+prop.longest_mm"),
    "own/opening": ("-{leaf}.width_mm", "-{leaf}.upstand_thickness_mm"),
    "own/user-width": ("+{leaf}.width_mm",),
    "own/user-load": ("+use.rated_load_kg",),
    "own/strength/inner-rails": _RAILS,
    "own/strength/outer-rails": _RAILS,
    "own/strength/inner-slats": _SLATS,
    "own/strength/outer-slats": _SLATS,
    "own/strength/inner-cross": _CROSS,
    "own/strength/outer-cross": _CROSS,
    "own/strength/bridge": (
        "+bridge.thickness_mm",
        "-bridge.length_mm",
        "+bridge.over_deck_mm",
        "made_of.fittings",
    ),
    "own/strength/flap": ("+toe.thickness_mm", "-toe.length_mm", "made_of.fittings"),
    "own/strength/stop": _STOP,
    "own/strength/joint-pins": _JOINT_PINS,
    "own/strength/deck-pins": _DECK_PINS,
    "own/strength/joint-knuckles": (
        *_WELDS,
        "+stop.arm_mm",
        "{leaf}.rail_section",
        "+joint.knuckle_length_mm",
        "+joint.knuckle_diameter_mm",
        "prop.fitted",
    ),
    "own/strength/deck-knuckles": (
        *_WELDS,
        "+deck_hinge.knuckle_length_mm",
        "+deck_hinge.knuckle_diameter_mm",
    ),
    "own/strength/bolts": _BOLTS,
    "own/strength/prop": ("prop.section", "made_of.rails", "-prop.longest_mm"),
    "own/strength/foot": ("-prop.foot_mm", "made_of.fittings"),
    "own/sag": ("{leaf}.rail_section", *_SHORTER, "-stop.gap_mm", "prop.fitted"),
    "own/ground/toe": ("+toe.length_mm", "toe.kind", "{leaf}.rail_section"),
    "own/ground/prop": ("+prop.foot_mm",),
}
"""By the quantity of a rule, or the beginning of the id of one of the program's own checks; the longest that
fits counts.
"""

_OF_MEMBER: Final = (
    ("rail", "{body}-rails"),
    ("slat", "{body}-slats"),
    ("cross member", "{body}-cross"),
    ("bridge plate", "bridge"),
    ("toe flap", "flap"),
    ("stop bar", "stop"),
    ("joint pin", "joint-pins"),
    ("deck pin", "deck-pins"),
    ("carrier knuckle", "bolts"),
    ("joint knuckle", "joint-knuckles"),
    ("deck knuckle", "deck-knuckles"),
    ("prop foot", "foot"),
    ("prop", "prop"),
)
"""What a load demanded by a rule is judged by: the worst member, so only what strengthens that one can
help.
"""

_OF_PAIR: Final = (
    (("deck",), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    (("carrier",), ("+deck_hinge.out_mm", "deck_hinge.below_mm")),
    (("ground",), ("-deck_hinge.below_mm", "-toe.length_mm")),
    (
        ("inner edge upstand", "outer edge upstand"),
        ("~joint.height_mm", "-inner_leaf.upstand_height_mm", "-outer_leaf.upstand_height_mm"),
    ),
    (("inner slat", "outer slat"), ("~joint.height_mm",)),
    (
        ("inner edge upstand",),
        ("+inner_leaf.upstand_start_mm", "+inner_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (
        ("outer edge upstand",),
        ("+outer_leaf.upstand_start_mm", "+outer_leaf.upstand_end_gap_mm", "~joint.height_mm"),
    ),
    (("stop",), ("stop.fixed_length_mm", "outer_leaf.slat_first_mm", "inner_leaf.slat_last_gap_mm")),
    (("inner slat",), ("~joint.height_mm", "+inner_leaf.slat_first_mm", "+inner_leaf.slat_last_gap_mm")),
    (("outer slat",), ("~joint.height_mm", "+outer_leaf.slat_first_mm")),
    ((), ("~joint.height_mm",)),
)
"""For a pair of the fold, besides the closing: by words of its name, those of the first line that fits."""

_FALLBACK: Final = (
    *_LENGTHS,
    *_SHORTER,
    "joint.height_mm",
    "deck_hinge.height_mm",
    "deck_hinge.out_mm",
    "deck_hinge.below_mm",
)
_STEADY: Final = {
    "tips": ("+carrier_body.ballast_kg",),
    "share": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "rocks": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "twist": ("+carrier_body.ballast_kg", f"-{SPRINGS}"),
    "lean": (f"+{SPRINGS}",),
    "nod": (f"+{SPRINGS}",),
    "drop": (f"+{SPRINGS}", "-carrier_body.ballast_kg"),
    "stands": (),
}
"""For the carrier: more weight holds it down, softer springs follow the ground, stiffer ones give less."""


_LEAVES: Final = {"inner": "inner_leaf.", "outer": "outer_leaf.", "both": BOTH_LEAVES}


def candidates_of(check: Check, design: Design, rule_sets: tuple[RuleSet, ...]) -> tuple[str, ...]:
    """Return what is tried for a failing check, each once: path, with `+` or `-` before it where only one way
    can help.
    """
    rule = limit_of(check, rule_sets)
    limit = rule[1] if rule is not None else None
    leaves = _leaves_of(f"{check.id} {check.subject}")
    if check.id.startswith(CLEARANCE):
        found = _for_pair(check.subject)
    elif check.id.startswith(CARRIER):
        found = (*_STEADY.get(check.id.removeprefix(CARRIER).partition("/")[0], ()), *_supports(design))
    elif limit is not None and limit.quantity in ("step", "deck_step", "joint_step", "toe_step"):
        found = _STEP[check.id.rpartition("/")[2]]
    elif limit is not None and isinstance(QUANTITIES[limit.quantity], LoadQuantity):
        leaves = [*_leaves_of(check.member), "both"]
        key = next((key for word, key in _OF_MEMBER if word in check.member), "")
        found = _TABLE.get(f"own/strength/{key.format(body=leaves[0])}", _FALLBACK)
    elif limit is not None:
        found = _TABLE.get(limit.quantity, _FALLBACK)
    else:
        begin = max((key for key in _TABLE if check.id.startswith(key)), key=len, default="")
        found = _TABLE.get(begin, _FALLBACK)
    away = "+" if design.fold.closing == "faces" else "-"
    paths = (path.replace("{leaf}.", _LEAVES[leaf]).replace("~", away) for path in found for leaf in leaves)
    return tuple(dict.fromkeys(paths))


def _for_pair(pair: str) -> tuple[str, ...]:
    sides = pair.split(" - ")
    fits = (paths for words, paths in _OF_PAIR if all(any(word in side for side in sides) for word in words))
    return (*next(fits), "fold.closing")


def _leaves_of(words: str) -> list[str]:
    """Return the leaf that words speak of or, where they speak of none, each and both together."""
    return [leaf for leaf in ("inner", "outer") if leaf in words] or ["inner", "outer", "both"]


def _supports(design: Design) -> Iterator[str]:
    if design.carrier_body.ballast_kg:
        yield "carrier_body.ballast_back_mm"
    for number, support in enumerate(design.supports, start=1):
        if support.kind != "spring" and support.gap_mm:
            yield f"-supports[{number}].gap_mm"
