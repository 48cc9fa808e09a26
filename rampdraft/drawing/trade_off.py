"""What gentler slopes weigh: every ramp that was found as a point of mass over gradient."""

from collections.abc import Sequence
from typing import Final

from rampdraft.drawing.axes import SIZE_PT, Axis, Graph, axes, grid, round_ticks
from rampdraft.drawing.ink import Ink, Label, Picture, ring
from rampdraft.explore.proposals.results import Proposal
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

CHART_MM: Final = (150.0, 80.0)
_SPOT_MM: Final = 1.0
_CHOSEN_MM: Final = 1.8
_ROOM: Final = 0.12
"""Beyond the outermost points, of what lies between them."""


def trade_off_chart(
    found: Sequence[Proposal], chosen: Sequence[Proposal], size_mm: tuple[MM, MM] = CHART_MM
) -> Picture:
    """Return the mass of every ramp found over the level length for one of height where it is steepest; the
    chosen ones have their numbers. The owner of each point is its place in `found`, counted from 1.
    """
    points = [(1 / one.figures.gradient, one.figures.mass_kg) for one in found]
    slopes, masses = [one for one, _ in points], [one for _, one in points]
    graph = Graph(
        across=_axis(slopes, say("gentler: level length for 1 of height, steepest part"), 1.0),
        up=_axis(masses, say("mass, kg"), 2.0),
        frame=(0.0, 0.0, *size_mm),
    )
    marks: list[Ink] = [*grid(graph), *axes(graph)]
    for number, (one, point) in enumerate(zip(found, points, strict=True), start=1):
        at = graph.at(*point)
        place = chosen.index(one) + 1 if one in chosen else 0
        size = _CHOSEN_MM if place else _SPOT_MM
        marks.append(ring(at, size, fill="paper", pen="outline", owner=str(number)))
        if place:
            beside = (at[0] + 2.4, at[1] + 1.6)
            words = f"{place}: {fixed(point[1], 0, 'kg')}"
            marks.append(Label(text=words, at=beside, anchor="left", size_pt=SIZE_PT))
    return Picture(marks=tuple(marks), box=graph.box, title=say("Mass against gradient"))


def _axis(values: Sequence[float], words: str, least: float) -> Axis:
    low, high = min(values), max(values)
    room = max(_ROOM * (high - low), least / 2)
    return Axis(low=low - room, high=high + room, ticks=round_ticks(low - room, high + room, 8), words=words)
