"""Templates at true size: what is laid on the work or wrapped round it, instead of measured.

A wrap has the outside of a coped or tapered bar unrolled, a drill strip the holes of a slat; the setting of
the stop bars and the jig of a hinge line show where things lie that must not be measured one by one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing import dimension
from rampdraft.drawing.ink import Fill, Ink, Label, Path, Picture, area, line
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.developed import Developed, bend_lines, worth_unrolling
from rampdraft.geometry.linkage import Placing, moved
from rampdraft.geometry.members.member import EndCut, HingeLine, Member
from rampdraft.geometry.outline import disc, rectangle
from rampdraft.shop.parts import Part, part_number
from rampdraft.units import MM
from rampdraft.words.figures import mm
from rampdraft.words.say import called, named, say

BEYOND_MM: Final = 30.0
"""Of a bar behind its cut, for the wrap to hold on."""
_NAMES_MM: Final = 12.0
"""From the far edge of a wrap, where no end is cut away, to the middle of the sides' names."""
_NEAR_MM: Final = 0.5
"""What is nearer across than this stands in the same plane for the setting of a stop bar."""
_LINE_MM: Final = 4.0
_APART_MM: Final = 9.0
"""Between dimension lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A picture to be printed at 1 : 1."""

    title: str
    use: str
    """What to do with it."""
    picture: Picture


def templates(evaluation: Evaluation) -> tuple[Template, ...]:
    """Return all templates of a design, in the order of the work."""
    return (
        *(wrap for part in evaluation.parts for wrap in _wraps(part)),
        *(strip for part in evaluation.parts for strip in _drill_strips(part)),
        *_jigs(evaluation),
        *_stop_setting(evaluation),
    )


def _wraps(part: Part) -> Iterator[Template]:
    sheet = worth_unrolling(part.piece)
    if sheet is None:
        return
    x0, y0, x1, y1 = sheet.outline.box
    for number, cut in enumerate(part.piece.ends):
        if cut.kind == "square":
            continue
        reach = min(_reach_mm(cut) + BEYOND_MM, x1 - x0)
        left, right = (x0 - 5, x0 + reach) if number == 0 else (x1 - reach, x1 + 5)
        behind = right - _NAMES_MM if number == 0 else left + _NAMES_MM
        marks: list[Ink] = [Path(vertices=sheet.outline.vertices, closed=True, pen="thin")]
        marks.extend(line(*ends, "hidden") for ends in bend_lines(sheet))
        marks.extend(_side_names(sheet, behind))
        which = say("datum end") if number == 0 else say("other end")
        yield Template(
            title=f"{part.number} {part.words}, {which}: {cut.text}",
            use=say(
                "{quantity} off. Wrap round the {section}, print outside; the edges meet in the"
                " middle of the {side}.",
                quantity=part.quantity,
                section=called(part.piece.section.text),
                side=say(sheet.sides[0][0]),
            ),
            picture=Picture(marks=tuple(marks), box=(left, y0 - 3, right, y1 + 3), title=part.number),
        )


def _reach_mm(cut: EndCut) -> MM:
    return cut.length_mm if cut.kind == "taper" else cut.radius_mm


def _side_names(sheet: Developed, x: MM) -> Iterator[Label]:
    for side, low, high in sheet.sides:
        if high - low >= _LINE_MM or high == low:
            yield Label(text=say(side), at=(x, (low + high) / 2 - 1.2), anchor="centre", size_pt=8.0)


def _drill_strips(part: Part) -> Iterator[Template]:
    outline, holes = part.piece.profile.outline, part.piece.profile.holes
    if part.role != "slat" or not holes:
        return
    x0, y0, x1, y1 = outline.box
    marks: list[Ink] = [Path(vertices=outline.vertices, closed=True, pen="thin")]
    for hole in holes:
        marks.append(area(disc(hole.x_mm, hole.y_mm, hole.diameter_mm), "thin", "none"))
        marks.extend(dimension.centre_mark((hole.x_mm, hole.y_mm), hole.diameter_mm / 2 + 3))
    places = sorted({hole.x_mm for hole in holes})
    marks.extend(
        Label(text=mm_text(x - x0, 2), at=(x + 1.5, (y0 + y1) / 2), size_pt=8.0, angle_deg=90.0)
        for x in (*places, x1 - 4)
    )
    sizes = say(" and ").join(f"Ø{mm_text(size)}" for size in sorted({hole.diameter_mm for hole in holes}))
    yield Template(
        title=say(
            "{number} {name}: {count} holes {sizes}",
            number=part.number,
            name=part.words,
            count=len(holes),
            sizes=sizes,
        ),
        use=say(
            "{quantity} off. Lay on with the left edge on the datum end, prick the centres.",
            quantity=part.quantity,
        ),
        picture=Picture(marks=tuple(marks), box=(x0 - 3, y0 - 3, x1 + 3, y1 + 3), title=part.number),
    )


_BODY_FILLS: Final[dict[str, Fill]] = {"inner": "inner", "outer": "outer", "carrier": "carrier"}


def _jigs(evaluation: Evaluation) -> Iterator[Template]:
    hinges: tuple[HingeLine, ...] = ("deck", "joint")
    for hinge in hinges:
        on = [
            one for one in evaluation.assembly.members
            if one.tag.hinge == hinge and one.role in ("knuckle", "washer")
        ]  # fmt: skip
        pins = [one for one in evaluation.assembly.members if one.tag.hinge == hinge and one.role == "pin"]
        if on and pins:
            yield _jig(evaluation, hinge, on, pins[0])


def _jig(evaluation: Evaluation, hinge: HingeLine, on: list[Member], pin: Member) -> Template:
    """Return all knuckles of a hinge line as they lie on their rod, seen from the end of the ramp: left is
    left for somebody who walks up.
    """
    low, high = min(one.y0_mm for one in on), max(one.y1_mm for one in on)
    tallest = max(one.piece.section.depth_mm for one in on)
    rod = pin.piece.section.depth_mm
    marks: list[Ink] = []
    for one in sorted(on, key=lambda one: one.role == "knuckle"):
        half = one.piece.section.depth_mm / 2
        outline = rectangle(one.y0_mm, -half, one.y1_mm, half)
        marks.append(area(outline, "thin", "paper" if one.role == "washer" else _BODY_FILLS[one.body]))
    marks.append(line((low - 10, 0.0), (high + 10, 0.0), "centre"))
    for level in (-rod / 2, rod / 2):
        marks.append(line((low - 10, level), (high + 10, level), "hidden"))
    knuckles = sorted((one for one in on if one.role == "knuckle"), key=lambda one: one.y0_mm)
    for one in knuckles:
        at = (0.5 * (one.y0_mm + one.y1_mm), -tallest / 2 - 5)
        words = (part_number(one), say("carrier") if one.body == "carrier" else named(f"{one.body} leaf"))
        marks.extend(
            Label(text=word, at=(at[0], at[1] - _LINE_MM * number), anchor="centre", size_pt=7.0)
            for number, word in enumerate(words)
        )
    edges = sorted({edge for one in knuckles for edge in (one.y0_mm, one.y1_mm)})
    places = tuple(((edge, tallest / 2), mm_text(edge - low, 2)) for edge in edges)
    marks.extend(dimension.running((low, tallest / 2), places, at=tallest / 2 + 6, per_mm=1.0))
    height = evaluation.design.deck_hinge.height_mm if hinge == "deck" else evaluation.design.joint.height_mm
    return Template(
        title=say(
            "Jig for the deck hinge: knuckles on one rod Ø{rod}"
            if hinge == "deck"
            else "Jig for the joint: knuckles on one rod Ø{rod}",
            rod=mm_text(rod),
        ),
        use=say(
            "Thread all knuckles on the rod with their washers, set them by this strip, hold"
            " them down; the rod's middle lies {level}. Tack rails to"
            " knuckles, check, then weld.",
            level=_level_words(height),
        ),
        picture=Picture(
            marks=tuple(marks),
            box=(low - 12, -tallest / 2 - 5 - 2 * _LINE_MM, high + 12, tallest / 2 + 22),
            title=hinge,
        ),
    )


def _level_words(height_mm: MM) -> str:
    """Return where a rod's middle lies."""
    if height_mm == 0:
        return say("in the top of the rails")
    return say(
        "{height} above the top of the rails" if height_mm > 0 else "{height} below the top of the rails",
        height=mm(abs(height_mm)),
    )


def _stop_setting(evaluation: Evaluation) -> Iterator[Template]:
    members = evaluation.assembly.members
    bars = [one for one in members if one.role == "stop bar"]
    if not bars:
        return
    first = bars[0]
    apart = evaluation.design.inner_leaf.length_mm
    height = evaluation.design.joint.height_mm
    beside = [
        one for one in members
        if one.body in ("inner", "outer")
        and one.role in ("rail", "stop bar", "knuckle")
        and one.y0_mm < first.y1_mm + _NEAR_MM and one.y1_mm > first.y0_mm - _NEAR_MM
        and (one.role != "knuckle" or one.tag.hinge == "joint")
    ]  # fmt: skip
    placed = [(one, moved(one.silhouette, _straight(one, apart))) for one in beside]
    boxes = [outline.box for one, outline in placed if one.role == "stop bar"]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    floor = min(outline.box[1] for one, outline in placed if one.role != "rail")
    roof = max(height, *(box[3] for box in boxes))
    marks: list[Ink] = [
        Path(
            vertices=outline.vertices,
            closed=True,
            pen="thin",
            fill=_BODY_FILLS[one.body] if one.role == "stop bar" else "none",
        )
        for one, outline in sorted(placed, key=lambda pair: pair[0].role == "stop bar")
    ]
    marks.extend(dimension.centre_mark((0.0, height), 12.0))
    marks.extend(_stop_sizes(boxes, height, roof, right))
    words = "; ".join(dict.fromkeys(mark.what for one in bars for mark in one.piece.marks))
    yield Template(
        title=say("Setting of the stop bars, joint straight, seen from the side"),
        use=say(
            "Hinge pin in, both leaves straight, their rails in one line. {marks}.",
            marks=f"{words[:1].upper()}{words[1:]}",
        )
        if words
        else say("Hinge pin in, both leaves straight, their rails in one line."),
        picture=Picture(
            marks=tuple(marks),
            box=(left - 15, floor - 5, right + 12 + _APART_MM * 4, roof + 25),
            title="stop",
        ),
    )


def _stop_sizes(boxes: list[tuple[MM, MM, MM, MM]], height: MM, roof: MM, right: MM) -> Iterator[Ink]:
    """Yield where the bars begin and end, from the middle of the hinge pin."""
    hinge = (0.0, height)
    for box in boxes:
        above = roof + (8 if box[0] < 0 else 16)
        for edge in (box[0], box[2]):
            if abs(edge) > _NEAR_MM:
                size = mm_text(abs(edge), 2)
                yield from dimension.level(hinge, (edge, box[3]), size, at=above, per_mm=1.0)
                above += 16
    levels = sorted({round(box[side], 6) for box in boxes for side in (1, 3)})
    for number, level in enumerate(levels, start=1):
        size = mm_text(abs(level - height), 2)
        beside = right + _APART_MM * number
        yield from dimension.upright(hinge, (right, level), size, at=beside, per_mm=1.0)


def _straight(member: Member, apart_mm: MM) -> Placing:
    """Return where a leaf's frame lies with the joint straight, the joint's centre at u = 0."""
    return Placing(0.0, -apart_mm if member.body == "inner" else 0.0, 0.0)
