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
from rampdraft.explore.ways_out.tried.lengths import LENGTHS, SHORTER
from rampdraft.explore.ways_out.tried.members import MEMBERS, OF_PAIR, Trait
from rampdraft.explore.ways_out.tried.rolling import ROLLING
from rampdraft.explore.ways_out.tried.strength import STRENGTH
from rampdraft.geometry.members.member import Kin
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import BOTH_LEAVES, SPRINGS, paths_of
from rampdraft.model.spacing import follows, idle, worked_out_from

_SPRINGS: Final = ("-assist.rate_nmm_deg", "-assist.slack_deg", "-assist.force_n", "-assist.count")
_MORE_SPRING: Final = ("+assist.rate_nmm_deg", "+assist.force_n", "+assist.count", "assist.kind")
_HANDS: Final = (*_MORE_SPRING, "-{leaf}.slat_thickness_mm", "{leaf}.rail_section", "+hands.people")
_ADJUSTED: Final = ("-prop.pin_diameter_mm", "+prop.pin_diameter_mm", "+prop.shortest_mm")
"""Of one piece they may make two tubes."""
_HOLD: Final = ("prop.fitted", "stop.kind", "fold.closing")
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
_TABLE: Final[dict[str, tuple[str, ...]]] = {
    "gradient": LENGTHS,
    "gradient/bridge": _BRIDGE,
    "leaf_gradient": LENGTHS,
    "flap_gradient": ("+toe.length_mm", "-toe.thickness_mm"),
    "cross_slope": (),
    "grade_change": (*LENGTHS, "+toe.length_mm"),
    "rise": (),
    "going": SHORTER,
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
    **MEMBERS,
    "own/latch-line": ("hold_down.arm_mm",),
    "own/stop": ("stop.arm_mm", "stop.kind"),
    "own/stowed/height": (*SHORTER, "+deck_hinge.below_mm", "-fold.stowed_deg"),
    "own/stowed/out": _STOWED_OUT,
    "own/stowed/in": _STOWED_IN,
    "own/ends-stowed": ("fold.stowed_deg",),
    "own/toe": (*LENGTHS, "toe.kind", "-deck_hinge.below_mm"),
    "own/prop": ("-prop.shortest_mm", "+prop.longest_mm", *_ADJUSTED, "-prop.longest_mm"),
    "own/prop-short": (*_ADJUSTED, "+prop.slack_mm", "+prop.longest_mm"),
    "own/prop-free": (
        "+inner_leaf.slat_last_gap_mm",
        "+outer_leaf.slat_first_mm",
        "-prop.longest_mm",
        "stop.gap_mm",
    ),
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
    "own/user-tips": LENGTHS,
    "own/roll-width": ("+{leaf}.width_mm", "-{leaf}.upstand_thickness_mm"),
    **ROLLING,
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
    "own/grip": ("+use.wet_grip", *LENGTHS),
    "own/aside/tips": (),
    "own/aside/slides": ("+use.wet_grip",),
    "own/toe-slides": (),
    "own/crowd": ("+use.rated_load_kg",),
    **STRENGTH,
}
"""By the quantity of a rule, or the beginning of the id of one of the program's own checks; the longest that
fits counts.
"""

_FALLBACK: Final = (
    *LENGTHS,
    *SHORTER,
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
    fits = (paths for traits, paths in OF_PAIR if all(any(_has(kin, one) for kin in pair) for one in traits))
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
