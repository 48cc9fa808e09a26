"""Values that are changed together where no single one cures a check: one leads, at most two follow it.

A lead is written as a candidate is (`candidates`): its path, with `+` or `-` before it where only one way can
help, `{leaf}` for each leaf and both alike, `~` for the way that parts the sides that meet. A follower goes
so many mm a mm of the lead, so many mm a mm that a section's depth grows, or takes a value.
"""

from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import Check
from rampdraft.explore.least_change import on_grid
from rampdraft.explore.ways_out.candidates import leaves_of
from rampdraft.explore.ways_out.results import Change, Value
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import SPRINGS, info_of, value_of
from rampdraft.model.section import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Follow:
    """A value that follows the lead."""

    path: str
    times: float = 0.0
    """So far a step of the lead."""
    takes: Value | None = None
    """What it becomes, wherever the lead goes."""
    closing: Literal["faces", "backs"] | None = None
    """It follows only where the leaves close so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """Values that are changed together."""

    lead: str
    signs: str = "+-"
    follow: tuple[Follow, ...] = ()

    @property
    def settles(self) -> bool:
        """Return whether a search goes on until nothing else fails by it: what makes another thing of a part
        is no cure before that part is one that works.
        """
        return (self.lead, self.follow) in _SETTLE

    def changes(self, design: Design, value: Value) -> tuple[Change, ...] | None:
        """Return what becomes of all values where the lead becomes one, the lead first; None where a
        follower has no value, or those that it stands for differ.
        """
        before: Value | None = value_of(design, self.lead)
        if before is None:
            return None
        found = [Change(path=self.lead, before=before, after=value)]
        for one in self.follow:
            if one.closing not in (None, design.fold.closing):
                continue
            now: Value | None = value_of(design, one.path)
            if now is None:
                return None
            after = one.takes if one.takes is not None else _moved(one, now, _step(before, value))
            if after != now:
                found.append(Change(path=one.path, before=now, after=after))
        return tuple(found)


def _step(before: Value, after: Value) -> float:
    if isinstance(before, Section) and isinstance(after, Section):
        return after.depth_mm - before.depth_mm
    assert isinstance(before, int | float)
    assert isinstance(after, int | float)
    return after - before


def _moved(one: Follow, now: Value, step: float) -> Value:
    info = info_of(one.path)
    assert info is not None
    assert isinstance(now, int | float)
    return on_grid(now + one.times * step, info)


def alone(candidate: str) -> Lever:
    """Return the lever of a single value, as candidates are written."""
    return _lever(candidate)


def _lever(lead: str, *follow: Follow) -> Lever:
    bare = lead.lstrip("+-~")
    return Lever(lead=bare, signs=lead[: len(lead) - len(bare)] or "+-", follow=follow)


_OUTER_TOO: Final = Follow(path="outer_leaf.length_mm", times=1.0)
_LONGER: Final = (_lever("+inner_leaf.length_mm", _OUTER_TOO),)
_SHORTER: Final = (
    _lever("-inner_leaf.length_mm", Follow(path="outer_leaf.length_mm", times=-1.0)),
    _lever("-inner_leaf.length_mm", _OUTER_TOO),
)
_JOINT_ABOVE: Final = Follow(path="joint.height_mm", times=1.0, closing="faces")
"""Faces together, the joint rises by as much as what lies between the leaves."""
_JOINT_BELOW: Final = Follow(path="joint.height_mm", times=-1.0, closing="backs")
_STOP_STAYS: Final = Follow(path="stop.arm_mm", times=1.0, closing="backs")
"""Backs together, the joint stays at the rails' underside, and the butting faces at their top."""
_SLATS: Final = tuple(
    _lever(f"+{leaf}.slat_thickness_mm", _JOINT_ABOVE, Follow(path="deck_hinge.below_mm", times=1.0))
    for leaf in ("{leaf}", "both_leaves")
)
_RAILS: Final = tuple(
    _lever(f"{leaf}.rail_section", _JOINT_BELOW, _STOP_STAYS) for leaf in ("{leaf}", "both_leaves")
)
_OPENING: Final = (
    _lever("-inner_leaf.slat_pitch_mm", Follow(path="outer_leaf.slat_pitch_mm", times=1.0)),
    _lever("+inner_leaf.slat_width_mm", Follow(path="outer_leaf.slat_width_mm", times=1.0)),
)
_PLATE: Final = Follow(path="bridge.fitted", takes=True)
_DECK: Final = (
    _lever("bridge.length_mm", _PLATE),
    _lever("deck_hinge.below_mm", _PLATE),
    _lever("-deck_hinge.out_mm", _PLATE),
)
_TAPER: Final = Follow(path="toe.kind", takes="taper")
_FLAP: Final = Follow(path="toe.kind", takes="flap")
_TOE: Final = (
    _lever("-outer_leaf.slat_thickness_mm", _TAPER),
    _lever("-toe.thickness_mm", _TAPER),
    _lever("-toe.thickness_mm", _FLAP),
)
_TOE_ANEW: Final = (_lever("toe.length_mm", _FLAP), _lever("toe.length_mm", _TAPER))
"""A toe of another kind, as long as it has to be: one that has none has no length that was meant for it."""
_SETTLE: Final = frozenset((one.lead, one.follow) for one in _TOE_ANEW)
_BACKS: Final = Follow(path="fold.closing", takes="backs")
_HELD: Final = tuple(
    _lever("-joint.height_mm", _BACKS, Follow(path="stop.kind", takes=kind)) for kind in ("lap", "butt")
)
_SPRING: Final = (
    _lever("+assist.rate_nmm_deg", Follow(path="assist.kind", takes="torsion")),
    _lever("+assist.force_n", Follow(path="assist.kind", takes="gas")),
)
_SOFTER: Final = (_lever(f"-{SPRINGS}", Follow(path="carrier_body.ballast_kg", times=-1.0)),)
"""A kilogram of ballast a N/mm that the springs are softer."""
_JOINT_PIN: Final = (
    _lever("+joint.pin_diameter_mm", Follow(path="joint.knuckle_diameter_mm", times=1.0)),
    *_RAILS,
)
_DECK_PIN: Final = (
    _lever("+deck_hinge.pin_diameter_mm", Follow(path="deck_hinge.knuckle_diameter_mm", times=1.0)),
)
_GUARDS: Final = (
    _lever("+{leaf}.upstand_height_mm", _JOINT_ABOVE),
    _lever(
        "+inner_leaf.upstand_height_mm", Follow(path="outer_leaf.upstand_height_mm", times=1.0), _JOINT_ABOVE
    ),
)
_PAIRS: Final = (
    _lever("~joint.height_mm", Follow(path="joint.knuckle_diameter_mm", times=2.0, closing="faces")),
    _lever("+outer_leaf.slat_first_mm", Follow(path="inner_leaf.slat_last_gap_mm", times=1.0)),
    _lever("~joint.height_mm", Follow(path="stop.arm_mm", times=-1.0, closing="backs")),
)
"""A joint that goes up keeps its knuckles on the rails where they grow; one that goes down its stop."""

_TABLE: Final[dict[str, tuple[Lever, ...]]] = {
    "gradient": _LONGER,
    "gradient/bridge": _DECK,
    "leaf_gradient": _LONGER,
    "grade_change": _LONGER,
    "going": _SHORTER[1:],
    "opening": _OPENING,
    "vehicle_gap": _DECK,
    "step/deck-edge": _DECK,
    "step/toe": _TOE,
    "deck_step": _DECK,
    "toe_step": _TOE,
    "edge_height": _GUARDS,
    "side_stop": _GUARDS,
    "joint_held": _HELD,
    "own/held": _HELD,
    "own/stowed/height": _SHORTER,
    "own/toe": _LONGER,
    "own/user-tips": _LONGER,
    "own/grip": _LONGER,
    **{f"own/roll-{name}": _LONGER for name in ("clears", "climbs", "tips", "start", "keep")},
    **{
        f"own/roll-{name}/{place}": (*_DECK, *_LONGER)
        for name in ("clears", "climbs")
        for place in ("deck", "edge")
    },
    **{
        f"own/roll-{name}/{place}": (*_TOE_ANEW, *_TOE, *_LONGER)
        for name in ("clears", "climbs")
        for place in ("toe", "ground")
    },
    "own/hands": _SPRING,
    "own/fall": _SPRING,
    "own/carrier-share": _SOFTER,
    "own/carrier-rocks": _SOFTER,
    "own/carrier-twist": _SOFTER,
    **{
        f"own/{what}/{leaf}-rails": _RAILS
        for what in ("strength", "crossings")
        for leaf in ("inner", "outer")
    },
    **{f"own/strength/{leaf}-slats": _SLATS for leaf in ("inner", "outer")},
    "own/strength/joint-pins": _JOINT_PIN,
    "own/strength/joint-knuckles": _JOINT_PIN,
    "own/strength/deck-pins": _DECK_PIN,
    "own/strength/deck-knuckles": _DECK_PIN,
    "own/strength/stop": _RAILS,
    "own/sag": (*_RAILS, *_SHORTER[1:]),
}
"""By the quantity of a rule, or the beginning of the id of one of the program's own checks, as of the
candidates.
"""


def levers_of(check: Check, design: Design) -> tuple[Lever, ...]:
    """Return what is changed together for a failing check, where no single value cures it."""
    about = check.about
    if about.pair is not None:
        found: tuple[Lever, ...] = _PAIRS
    elif isinstance(QUANTITIES.get(about.kind), LoadQuantity):
        found = _TABLE.get(f"own/strength/{about.part}", ())
    else:
        found = _TABLE.get(f"{about.kind}/{about.part}", _TABLE.get(about.kind, ()))
    away, leaves = "+" if design.fold.closing == "faces" else "-", leaves_of(check)
    expanded = (
        Lever(
            lead=lever.lead.replace("{leaf}.", leaf),
            signs=lever.signs.replace("~", away),
            follow=lever.follow,
        )
        for lever in found
        for leaf in leaves
    )
    return tuple(dict.fromkeys(expanded))
