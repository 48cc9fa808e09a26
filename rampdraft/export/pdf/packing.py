"""Drawings of many sizes, laid on as few sheets as may be: in reading order, or wherever there is room."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.sheet import Placed
from rampdraft.export.pdf.book import Op, Sheet
from rampdraft.export.pdf.room import Room, block, put
from rampdraft.units import MM
from rampdraft.words.say import say

GAP_MM: Final = 6.0
_TITLE_PT: Final = 9.0
_TITLE_MM: Final = 40.0
"""A title has no less room than that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Something to be printed somewhere on a sheet: from its top left corner."""

    draw: Callable[[MM, MM], list[Op]]
    wide: MM
    tall: MM


def titled_cell(view: Placed, words: str) -> Cell:
    """Return a picture with its title above it."""
    wide, tall = view.size_mm
    wide = max(wide, _TITLE_MM)
    _, head = block((0.0, 0.0), words, wide, _TITLE_PT, bold=True)
    head += 1.5

    def draw(x: MM, top: MM) -> list[Op]:
        title, _ = block((x, top), words, wide, _TITLE_PT, bold=True)
        return [*title, put(view, x, top - head - tall)]

    return Cell(draw=draw, wide=wide, tall=tall + head)


def stacked(*cells: Cell) -> Cell:
    """Return cells above each other as one."""
    tall = sum(cell.tall for cell in cells) + GAP_MM * (len(cells) - 1)

    def draw(x: MM, top: MM) -> list[Op]:
        ops: list[Op] = []
        for cell in cells:
            ops.extend(cell.draw(x, top))
            top -= cell.tall + GAP_MM
        return ops

    return Cell(draw=draw, wide=max(cell.wide for cell in cells), tall=tall)


def in_order(cells: Iterable[Cell], kind: str, room: Room) -> list[Sheet]:
    """Return sheets with the cells in rows, in reading order."""
    sheets: list[Sheet] = []
    x = top = row_mm = 0.0
    for cell in cells:
        if sheets and x > room.left and x + cell.wide > room.right + _ROUNDED_MM:
            x, top, row_mm = room.left, top - row_mm - GAP_MM, 0.0
        if not sheets or top - cell.tall < room.bottom - _ROUNDED_MM:
            sheets.append(_sheet(kind, room))
            x, top, row_mm = room.left, room.top, 0.0
        sheets[-1].ops.extend(cell.draw(x, top))
        x, row_mm = x + cell.wide + GAP_MM, max(row_mm, cell.tall)
    return sheets


def packed(groups: Iterable[Iterable[Cell]], kind: str, room: Room) -> list[Sheet]:
    """Return sheets with all cells, those of the first group first, in each the tallest first, each as high
    up on the first sheet that has room for it below what is there already.
    """
    sheets: list[Sheet] = []
    lines: list[list[_Step]] = []
    for cell in (cell for group in groups for cell in sorted(group, key=lambda cell: -cell.tall)):
        found = next(
            ((k, spot) for k, line in enumerate(lines) if (spot := _spot(line, cell, room)) is not None), None
        )
        if found is None:
            sheets.append(_sheet(kind, room))
            lines.append([_Step(x=room.left, end=room.right + GAP_MM, top=room.top)])
            found = len(sheets) - 1, (room.left, room.top)
        number, (x, top) = found
        sheets[number].ops.extend(cell.draw(x, top))
        lines[number] = _lowered(lines[number], x, x + cell.wide + GAP_MM, top - cell.tall - GAP_MM)
    return sheets


_ROUNDED_MM: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """A stretch across a sheet, and down to where it is full."""

    x: MM
    end: MM
    top: MM


def _spot(line: Sequence[_Step], cell: Cell, room: Room) -> tuple[MM, MM] | None:
    """Return the highest place of a cell below what is there, the one on the left of several."""
    best: tuple[MM, MM] | None = None
    for step in line:
        end = step.x + cell.wide
        if end > room.right + _ROUNDED_MM:
            break
        top = min(one.top for one in line if one.end > step.x and one.x < end)
        if top - cell.tall >= room.bottom - _ROUNDED_MM and (best is None or top > best[1]):
            best = step.x, top
    return best


def _lowered(line: Sequence[_Step], x: MM, end: MM, top: MM) -> list[_Step]:
    """Return what is left free below a cell that was put there."""
    kept: list[_Step] = []
    for step in line:
        if step.end <= x or step.x >= end:
            kept.append(step)
            continue
        if step.x < x:
            kept.append(_Step(x=step.x, end=x, top=step.top))
        if step.end > end:
            kept.append(_Step(x=end, end=step.end, top=step.top))
    kept.append(_Step(x=x, end=end, top=top))
    return sorted(kept, key=lambda step: step.x)


def _sheet(kind: str, room: Room) -> Sheet:
    return Sheet(kind=kind, size_mm=room.size_mm, scale=say("as shown"), check_line_at=room.check_line_at)
