"""What is told besides the checks: notes that follow from what the ramp is made of, what no check judges."""

from collections.abc import Iterator
from typing import Final

from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, MaterialKind
from rampdraft.model.section import Section
from rampdraft.words.figures import exact
from rampdraft.words.say import say

UNJUDGED: Final[tuple[str, ...]] = (
    "The carrier behind the plates of its brackets.",
    "The thrust along the slope in the bolts of the brackets: below a sixth of their pull.",
    "Worn pin holes in the sag, and knuckles that rock on their pins.",
    "Several users at once.",
    "The carrier on a cross slope.",
    "Tiring of screws and timber, of plates under wheels, of the carrier, and of the ends of cross members.",
    "Timber across the grain, under a lapping bar or as an upstand.",
    "Somebody who lifts the deployed ramp elsewhere than at its toe, and the bounce of a dropped toe.",
    "What the bridge plate's strip is screwed to, and a toe flap whose end a wheel pushes up.",
    "What springs, stays, handles, split pins, heads of screws and beads of welds meet while it is folded.",
    "What shakes the stowed ramp along its hinge line, and jolts that lift it.",
    "The lash of the outer leaf about the joint when the ramp is let go.",
    "The slope that the carrier itself stands on, wind on it and current.",
    "Users who tip sideways as they turn on a slope, and barrows that hands hold upright.",
    "Brakes of users, and motors whose push is not told: ask their makers what they give.",
    "Users at a slant, or between middle and guards, and castors that turn aside in a gap along the way.",
    "Bodies that swing and tyres that give as users roll: they are taken to be rigid, and slow.",
    "Fire, frost, ice, rot and rust.",
)
"""One sentence each; what stands here is left to whoever checks the ramp."""

CAUTIONS: Final[tuple[str, ...]] = (
    "These figures are an aid to a competent person. They are not approval.",
    "Where people ride, or the public is admitted, local codes and a licensed engineer decide.",
    "Welds by a competent welder.",
    "Prove the ramp by a test load, with nobody near, before anybody uses it.",
    "Keep hands out of the hinge lines.",
    "Stand clear of the ramp while it is folded: nobody under it, or where it may fall.",
    "Never exceed the marked load.",
    "Do not use the ramp on steeper ground than marked.",
)
"""One sentence a caution; say all of them, in this order."""

PINCH: Final = (
    "Fingers are caught in both hinge lines, between the leaves as they close, and at the stop bars: mark"
    " these places, and fold by the handles."
)
PROPS: Final = (
    "Props alone hold the joint: all of them stand under it, each pinned at its height, before anybody steps"
    " on the ramp. With one left out the joint drops."
)
_FAMILIES: Final = {
    "rails": "rails",
    "cross_members": "cross members",
    "slats": "slats",
    "upstands": "edge upstands",
    "fittings": "fittings",
}
_TOUCHING: Final = (
    ("rails", "cross_members"),
    ("rails", "slats"),
    ("rails", "fittings"),
    ("cross_members", "slats"),
    ("slats", "upstands"),
    ("rails", "upstands"),
)
"""Families of members that lie on each other."""
_HOLLOW: Final = ("box", "tube")


def notes(design: Design) -> tuple[str, ...]:
    """Return the notes that follow from materials and sections, and from every ramp that folds; common
    practice.
    """
    return (*_galvanic(design), *_drained(design), *_latches(design), *at_hand(design))


def at_hand(design: Design) -> Iterator[str]:
    """Yield what whoever puts the ramp down and folds it has to know."""
    if design.prop.fitted and design.stop.kind == "none":
        yield say(PROPS)
    yield say(PINCH)


def _galvanic(design: Design) -> Iterator[str]:
    kinds = {family: _kind(design, family) for family in _FAMILIES}
    pairs = [
        say("{one} and {other}", one=say(_FAMILIES[one]), other=say(_FAMILIES[other]))
        for one, other in _TOUCHING
        if {kinds[one], kinds[other]} == {"steel", "aluminium"}
    ]
    if pairs:
        yield (
            say(
                "Steel touches aluminium at {places}: wet, the aluminium is eaten away. Part them"
                " by paint, tape or plastic washers, and use stainless screws.",
                places="; ".join(pairs),
            )
        )


def _latches(design: Design) -> Iterator[str]:
    """Yield what latches are counted on, and what of them is fitted to the carrier."""
    held, road, needed = design.hold_down, design.road, list[str]()
    if held.latch:
        pull, arm = exact(held.pull_n, "N"), exact(held.arm_mm, "mm")
        needed.append(say("one across the joint, {pull} at {arm} from its centre", pull=pull, arm=arm))
    if road.latch_n:
        each = exact(road.latch_n, "N")
        needed.append(say("one for the stowed pack and one for the outer leaf, {force} each", force=each))
    if road.second_n:
        each = exact(road.second_n, "N")
        needed.append(
            say("a second lock for the stowed pack and one for the outer leaf, {force} each", force=each)
        )
    if needed:
        yield (
            say(
                "Buy latches marked with these working loads, each with its hook: {latches}. Sizes"
                " are common practice: take those of the ones you buy. What the hooks on the"
                " carrier are fixed to is in no list.",
                latches="; ".join(needed),
            )
        )


def _drained(design: Design) -> Iterator[str]:
    hollow: dict[str, tuple[Section, ...]] = {
        "rails": (design.inner_leaf.rail_section, design.outer_leaf.rail_section),
        "cross_members": (design.inner_leaf.cross_section, design.outer_leaf.cross_section),
    }
    if design.prop.fitted:
        hollow["rails"] = (*hollow["rails"], design.prop.section)
    names = [
        say(_FAMILIES[family])
        for family, sections in hollow.items()
        if _kind(design, family) == "steel" and any(section.kind in _HOLLOW for section in sections)
    ]
    if names:
        yield (
            say(
                "Hollow {parts} fill with water and rust from inside: leave a drain hole at the"
                " lowest place of each, stowed and deployed, or weld them shut all round.",
                parts=say(" and ").join(names),
            )
        )


def _kind(design: Design, family: str) -> MaterialKind:
    return material_named(design, getattr(design.made_of, family)).kind
