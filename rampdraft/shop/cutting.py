"""The cutting plan: which piece is cut from which stock length."""

import math
from collections.abc import Iterable, Sequence
from typing import Final

from rampdraft.figures import exact, fixed
from rampdraft.geometry.members.member import Role
from rampdraft.model.design import Design
from rampdraft.model.section import Section
from rampdraft.rounding import steps_over
from rampdraft.shop.parts import Bar, Cut, CuttingPlan, Part
from rampdraft.units import MM

BOUGHT: Final[tuple[Role, ...]] = ("washer",)
"""Bought by the piece, not sawn."""

_FIT_MM: Final = 1e-6
"""Rounding of the computer, so that a piece as long as the room left for it fits."""


def cutting_plan(parts: Sequence[Part], design: Design) -> CuttingPlan:
    """Return the stock lengths to buy for all parts and what is cut from each, a section and material at a
    time.

    First-fit decreasing: the longest piece first, each into the first stock length that still has room for
    it. Where a section comes in several stock lengths the longest is filled, then each is bought as short as
    its pieces allow. A stock length first loses its end trim and the saw cut that takes it off; then each
    piece takes its length and one saw cut, except that a piece that ends with the stock length needs none.
    The plan is not proven least; `least_bars` is what no plan can beat.

    Source of the method: D. S. Johnson, A. Demers, J. D. Ullman, M. R. Garey, R. L. Graham, Worst-case
    performance bounds for simple one-dimensional packing algorithms, SIAM Journal on Computing 3 (1974),
    299-325.
    """
    kerf, trim = design.workshop.kerf_mm, design.workshop.end_trim_mm
    lost = trim + kerf if trim > 0 else 0.0
    bars: list[Bar] = []
    unplaced: list[tuple[str, str]] = []
    least = 0
    sawn = [part for part in parts if part.role not in BOUGHT]
    for section, material in dict.fromkeys((part.piece.section, part.piece.material) for part in sawn):
        alike = [part for part in sawn if (part.piece.section, part.piece.material) == (section, material)]
        lengths = sorted(
            row.length_mm for row in design.stock if (row.section, row.material) == (section, material)
        )
        if not lengths:
            why = f"no stock length is given for {section.text} in {material}"
            unplaced += [(part.number, why) for part in alike]
            continue
        room = lengths[-1] - lost
        long = [part for part in alike if part.piece.length_mm > room + _FIT_MM]
        why = f"longer than the {exact(max(room, 0.0), 'mm')} that the longest stock length leaves"
        unplaced += [(part.number, f"{fixed(part.piece.length_mm, 1, 'mm')} is {why}") for part in long]
        cuts = [
            Cut(part=part.number, length_mm=part.piece.length_mm)
            for part in alike
            if part not in long
            for _ in range(part.quantity)
        ]
        for taken in _first_fit_decreasing(cuts, room, kerf):
            used = lost + _taken(taken, kerf)
            stock = next(length for length in lengths if used <= length + _FIT_MM)
            bars.append(_bar(section, material, stock, taken, stock - used - kerf))
        least += _least(cuts, room, kerf)
    return CuttingPlan(
        bars=tuple(bars),
        unplaced=tuple(unplaced),
        least_bars=least,
        words=_words(len(bars), least, len(unplaced)),
    )


def _bar(section: Section, material: str, stock: MM, taken: Sequence[Cut], left: MM) -> Bar:
    """Return a stock length and what is cut from it; without room for the last saw cut nothing is left."""
    return Bar(
        section=section.text,
        material=material,
        stock_mm=stock,
        cuts=tuple(taken),
        offcut_mm=max(0.0, left),
    )


def _first_fit_decreasing(cuts: Iterable[Cut], room: MM, kerf: MM) -> list[list[Cut]]:
    filled: list[list[Cut]] = []
    left: list[MM] = []
    for cut in sorted(cuts, key=lambda cut: -cut.length_mm):
        index = next((k for k, free in enumerate(left) if cut.length_mm <= free + _FIT_MM), None)
        if index is None:
            index = len(filled)
            filled.append([])
            left.append(room)
        filled[index].append(cut)
        left[index] -= cut.length_mm + kerf
    return filled


def _taken(cuts: Sequence[Cut], kerf: MM) -> MM:
    """Return the length that pieces take with the saw cuts between them."""
    return math.fsum(cut.length_mm for cut in cuts) + kerf * (len(cuts) - 1)


def _least(cuts: Sequence[Cut], room: MM, kerf: MM) -> int:
    """Return how many stock lengths no plan can do without: all lengths, each with its cut, over the room of
    the longest, which may be overfilled by rounding.
    """
    if not cuts:
        return 0
    return steps_over(_taken(cuts, kerf) + kerf, room + kerf + _FIT_MM)


def _words(count: int, least: int, unplaced: int) -> str:
    if count == least:
        said = f"{count} stock lengths: no plan can do with fewer." if count else "Nothing to cut from stock."
    else:
        said = (
            f"{count} stock lengths by first-fit decreasing, not proven least: no plan can do with fewer than"
            f" {least}."
        )
    if unplaced:
        said += f" {unplaced} part{'s are' if unplaced > 1 else ' is'} not placed."
    return said
