"""What is changed where a check fails, by what the check is about: rules of the drawing board."""

import contextlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals.cures import folding, joints, lying, members
from rampdraft.explore.proposals.cures.cure import Cure, kind_of
from rampdraft.model.design import Design


def mended(
    evaluation: Evaluation, failing: Iterable[Check], allowed: Callable[[Design], bool]
) -> tuple[Design | None, frozenset[str]]:
    """Return the design with the first cure of each failing check that changes anything and is allowed, None
    where nothing is left to try; and the kinds of checks for which nothing was.
    """
    stuck: set[str] = set()
    now = evaluation
    done: set[str] = set()
    for check in failing:
        kind = kind_of(check)
        subject = kind.replace("/outer-slats", "/inner-slats")  # one cure changes the slats of both leaves
        if subject not in done:
            done.add(subject)
            better = next(_cured(now, check, allowed), None)
            now = better or now
            if better is None:
                stuck.add(kind)
    return (now.design if now is not evaluation else None), frozenset(stuck)


def _cured(evaluation: Evaluation, check: Check, allowed: Callable[[Design], bool]) -> Iterator[Evaluation]:
    """Yield what comes of each cure of a check that changes the design into one that can be built."""
    for cure in _cures(check):
        found = cure(evaluation, check)
        if found is None or found == evaluation.design or not allowed(found):
            continue
        with contextlib.suppress(DesignError):
            yield evaluation.following(found)


def _cures(check: Check) -> Sequence[Cure]:
    kind = kind_of(check)
    while kind not in CURES and "/" in kind.partition("/")[2]:
        kind = kind.rpartition("/")[0]
    return CURES.get(kind, CURES.get(check.about.kind, ()))


RAILS: Final[tuple[Cure, ...]] = (members.rails, members.more_rails)


SLATS: Final[tuple[Cure, ...]] = (members.slats, lying.gentler_for_slats, members.more_rails)


CROSSES: Final[tuple[Cure, ...]] = (members.crosses, members.more_crosses, joints.throat)


GUARDS: Final[tuple[Cure, ...]] = (members.thicker_guards,)


JOINT: Final[tuple[Cure, ...]] = (
    joints.throat,
    joints.thicker_knuckle("joint"),
    joints.longer_joint_knuckles,
    members.rails,
    members.more_rails,
)


DECK: Final[tuple[Cure, ...]] = (
    joints.longer_deck_knuckles,
    joints.throat,
    joints.thicker_knuckle("deck_hinge"),
    members.more_rails,
)


HANDS: Final[tuple[Cure, ...]] = (folding.springs, folding.strapped, folding.shorter_inner)


EDGE: Final[tuple[Cure, ...]] = (lying.bridge(10.0), lying.lower(3.0))


CURES: Final[dict[str, tuple[Cure, ...]]] = {
    "gradient": (lying.flap_longer, lying.longer),
    "gradient/bridge": (lying.bridge(15.0), lying.lower(2.0), lying.bridge(-10.0)),
    "leaf_gradient": (lying.longer,),
    "flap_gradient": (lying.flap_longer,),
    "own/user-tips": (lying.longer,),
    "own/grip": (lying.gritted, lying.bit_longer),
    "own/toe": (lying.comes_down,),
    "own/toe-slides": (),
    "own/prop": (lying.prop_reach, lying.bit_longer),
    "own/prop-short": (lying.prop_reach, lying.thinner_prop_pin),
    "own/bridge": (lying.bridge(15.0), lying.lower(-3.0)),
    "vehicle_gap": (lying.bridge(10.0),),
    "step/deck-edge": EDGE,
    "deck_step": EDGE,
    "step/toe": (lying.thinner_toe,),
    "toe_step": (lying.thinner_toe,),
    "clear_width": (lying.wider,),
    "surface_width": (lying.wider,),
    "own/user-width": (lying.wider,),
    "own/roll-width": (lying.wider,),
    "edge_height": (members.taller_guards,),
    "side_stop": (members.taller_guards,),
    "opening": (members.closer_slats,),
    "own/strength/inner-rails": RAILS,
    "own/strength/outer-rails": (lying.steeper_taper, *RAILS),
    "own/sag": (members.outer_rails, *RAILS, lying.longer),
    "own/crossings/inner-rails": RAILS,
    "own/crossings/outer-rails": RAILS,
    "own/strength/inner-slats": SLATS,
    "own/strength/outer-slats": SLATS,
    "own/crossings/inner-slats": SLATS,
    "own/crossings/outer-slats": SLATS,
    "own/crossings/inner-upstands": GUARDS,
    "own/crossings/outer-upstands": GUARDS,
    "own/crossings/inner-fixings": (members.more_rails, members.rails),
    "own/crossings/outer-fixings": (members.more_rails, members.rails),
    "own/strength/inner-sharing": CROSSES,
    "own/strength/outer-sharing": CROSSES,
    "own/strength/inner-cross": CROSSES,
    "own/strength/outer-cross": CROSSES,
    "own/strength/inner-upstands": GUARDS,
    "own/strength/outer-upstands": GUARDS,
    "own/strength/inner-fixings": (members.more_rails, members.rails),
    "own/strength/outer-fixings": (members.more_rails, members.rails),
    "own/strength/joint-knuckles": JOINT,
    "own/crossings/joint-knuckles": JOINT,
    "own/strength/joint-pins": (joints.pin("joint"), joints.thicker_knuckle("joint"), members.more_rails),
    "own/strength/deck-knuckles": DECK,
    "own/crossings/deck-knuckles": DECK,
    "own/strength/deck-pins": (
        joints.pin("deck_hinge"),
        joints.thicker_knuckle("deck_hinge"),
        members.more_rails,
    ),
    "own/strength/bolts": (joints.bolts, joints.bolt_plate),
    "own/bolt-edge": (joints.bolt_edge,),
    "own/bolt-beside": (joints.bolt_beside,),
    "own/bracket-apart": (joints.narrower_plate,),
    "own/strength/bracket": (joints.bracket, joints.throat),
    "own/strength/stop": (
        joints.stop,
        joints.longer_stop,
        joints.thicker_bar,
        joints.throat,
        members.more_rails,
    ),
    "own/crossings/stop": (
        joints.longer_stop,
        joints.throat,
        joints.stop,
        joints.longer_lap,
        members.more_rails,
    ),
    "own/strength/lap-tip": (joints.longer_lap, members.rails),
    "own/strength/bridge": (lying.thicker_bridge, lying.bridge(-10.0)),
    "own/strength/flap": (lying.thicker_flap,),
    "own/strength/prop": (joints.prop_section, joints.prop_pin),
    "own/strength/foot": (joints.foot(-1),),
    "own/ground/prop": (joints.foot(1), joints.prop_everywhere),
    "own/ground/toe": (lying.toe(1.15), members.wider_rails, members.more_rails, lying.bit_longer),
    "own/attached": (joints.longer_stop,),
    "own/hands": HANDS,
    "deploying_force": HANDS,
    "own/fall": (folding.stay,),
    "own/stays-down/joint": (folding.latch, folding.weaker),
    "own/stays-down/toe": (folding.weaker,),
    "own/stow-latch": (folding.lock("latch_n"),),
    "own/second-lock": (folding.lock("second_n"),),
    "own/stowed/out": (folding.inward,),
    "own/stowed/in": (folding.outward,),
    "own/stowed/height": (folding.less_high,),
    "own/clearance": (folding.clears_pair,),
    "own/roll-start": (lying.bit_longer,),
    "own/roll-keep": (lying.bit_longer,),
    "own/roll-tips": (lying.bit_longer,),
    "own/roll-clears": (lying.bridge(15.0), lying.bit_longer),
    "own/roll-clears/toe": (lying.toe(1.15), lying.bit_longer),
    "own/roll-clears/ground": (lying.toe(1.15), lying.bit_longer),
    "own/roll-clears/outer": (lying.toe(1.15), lying.bit_longer),
    "own/roll-climbs": (lying.thinner_toe, lying.bridge(10.0)),
}
"""By what a check is about; the longest that fits counts. What is not named here nobody mends."""
