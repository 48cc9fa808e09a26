"""What the program itself demands of where the brackets and their bolts stand: bolts as far from the edge of
their plate as a standard asks, and as far from the stub as a washer beside its weld takes; plates beside each
other, not over each other.
"""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.result import Check, Demand, Measured, Source, Subjects, compose
from rampdraft.geometry.members.brackets import bolts_beside_stub, plates_apart_mm
from rampdraft.model.catalogue import bolt_row
from rampdraft.model.design import Joining
from rampdraft.strength.bracket import least_beside_mm, least_edge_mm
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

_MEMBER: Final = "carrier knuckle 1"
_EDGE: Final = Source(rule_set="own", title="Limit states", clause="table 3.3", publication="EN 1993-1-8")
_BESIDE: Final = Source(
    rule_set="own", title="Room for a washer", clause="", publication="ISO 7089, washer; common practice"
)
_APART: Final = Source(
    rule_set="own", title="Room for a plate", clause="", publication="common practice: two plates as cut"
)
_APART_MM: Final = 1.0


def bolt_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the bolts of the brackets are far enough from the edge, and from the stub's weld; and
    whether the plates of neighbouring brackets leave each other room.
    """
    design = subjects.design
    gap = plates_apart_mm(design)
    if math.isfinite(gap):
        yield _apart(gap)
    yield _from_edge(design.joining)
    if bolts_beside_stub(design):
        yield _beside(design.joining)


def _from_edge(joining: Joining) -> Check:
    least, edge = least_edge_mm(joining), joining.bolt_edge_mm
    words = say("{least}, 1.2 of the hole of {bolt}", least=figures.mm(least), bolt=joining.bolt_size)
    demand = Demand.own(
        "bolt-edge", say("Bolts from the edge of the bracket's plate"), "at least", "mm", least, words, _EDGE
    )
    working = prose(figures.given, say("from the middle of a bolt, as given"), figures.mm(edge))
    return compose(demand, Measured(key="", subject="", value=edge, working=working, member=_MEMBER))


def _beside(joining: Joining) -> Check:
    least, beside = least_beside_mm(joining), joining.bolt_beside_mm
    words = say(
        "{least}, half a washer of {bolt} and the leg of the stub's weld",
        least=figures.mm(least),
        bolt=joining.bolt_size,
    )
    demand = Demand.own(
        "bolt-beside", say("Bolts from the side of the stub"), "at least", "mm", least, words, _BESIDE
    )
    working = prose(_beside_lines, beside, bolt_row(joining.bolt_size).washer_mm / 2, joining.weld_leg_mm)
    return compose(demand, Measured(key="", subject="", value=beside, working=working, member=_MEMBER))


def _beside_lines(beside: MM, half: MM, leg: MM) -> Lines:
    return (
        *figures.given(say("from the middle of a bolt to the stub, as given"), figures.mm(beside)),
        say("half a washer {half}, leg of the weld {leg}", half=figures.mm(half), leg=figures.mm(leg)),
    )


def _apart(gap: MM) -> Check:
    words = say("{least}, so that plates as cut do not lie over each other", least=figures.mm(_APART_MM))
    demand = Demand.own(
        "bracket-apart", say("Plates of neighbouring brackets"), "at least", "mm", _APART_MM, words, _APART
    )
    working = prose(figures.given, say("between the plates of neighbouring brackets"), figures.mm(gap))
    return compose(demand, Measured(key="", subject="", value=gap, working=working, member=_MEMBER))
