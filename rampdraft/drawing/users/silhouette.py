"""A wheeled user from the side, facing left: wheels, body, footrests, a rider or load as plain outlines.

Along it is measured back from the front axle, as the shape is; z is up from the surface it stands on. What
the shape does not say (how somebody sits, how a tub is bent) is drawn as is common practice, and is judged
by nothing.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.ink import Fill, Ink, Path, Pen, Picture, line, polygon, polyline, ring
from rampdraft.drawing.text import length_unit, mm_text
from rampdraft.geometry.outline import Outline, Point
from rampdraft.model.design import UserClass
from rampdraft.model.rolling_shape import RollingShape
from rampdraft.units import MM
from rampdraft.words.figures import kg
from rampdraft.words.say import say

HEAD_MM: Final = 105.0
SEAT_MM: Final = 490.0
TOES_MM: Final = 150.0
HEEL_MM: Final = 90.0
"""From where somebody stands, forward and back."""
_REACH_MM: Final = 700.0
"""From the toes of somebody who sits back to the backrest."""
_CHILD: Final = 0.58


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What stands on the wheels."""

    marks: tuple[Ink, ...]
    handle: Point | None = None
    """Where hands push or hold it; None where there is nothing to push."""


def user_picture(shape: RollingShape) -> Picture:
    """Return a wheeled user from the side, with whoever walks behind."""
    marks = (*attendant(shape), *silhouette(shape))
    return Picture(marks=marks, box=box_of(marks), title=f"{shape.name}, {say(shape.kind)}")


def main_figures(shape: RollingShape) -> tuple[str, str]:
    """Return what sets one user apart from others: `150 kg, wheelbase 450` and `wheels 100 / 305 mm`, the
    wheels by their radii from the front.
    """
    radii = [mm_text(axle.radius_mm) for axle in shape.axles if not axle.held]
    wheels = " / ".join(dict.fromkeys(radii))
    weight = say(
        "{mass}, wheelbase {wheelbase}", mass=kg(shape.mass_kg), wheelbase=mm_text(shape.wheelbase_mm)
    )
    return weight, say(
        "wheels {radii}" if shape.wheels > 1 else "wheel {radii}", radii=f"{wheels} {length_unit()}"
    )


def silhouette(shape: RollingShape) -> tuple[Ink, ...]:
    """Return a wheeled user without whoever walks behind."""
    wheels = [
        mark
        for axle in shape.axles
        if not axle.held
        for mark in _wheel((axle.behind_mm, axle.radius_mm), axle.radius_mm)
    ]
    return *body_of(shape).marks, *_hanging(shape), *wheels


def body_of(shape: RollingShape) -> Body:
    """Return what stands on the wheels, as its class is built."""
    return _BODIES[shape.kind](shape)


def attendant_at(shape: RollingShape) -> MM | None:
    """Return where whoever pushes it stands behind the front axle; None where nobody does."""
    return shape.wheelbase_mm + shape.attendant_behind_mm if shape.attendant_kg else None


def attendant(shape: RollingShape) -> tuple[Ink, ...]:
    """Return whoever walks behind, with the arms at the handles."""
    at = attendant_at(shape)
    if at is None:
        return ()
    outline = (
        (-TOES_MM, 0), (HEEL_MM, 0), (75, 90), (95, 450), (130, 880), (105, 1250), (70, 1430), (25, 1500),
        (-45, 1500), (-90, 1350), (-95, 1000), (-75, 700), (-55, 480), (-35, 120), (-TOES_MM, 60),
    )  # fmt: skip
    body = _rounded([(at + x, z) for x, z in outline], 60.0, fill="paper")
    handle = body_of(shape).handle
    shoulder, elbow = (at + 10, 1370.0), (at + 30, 1060.0)
    arm = (polyline((shoulder, elbow, handle), "thin"),) if handle is not None else ()
    return body, ring((at - 15, 1600.0), HEAD_MM, pen="thin"), *arm


def feet(at: MM) -> Ink:
    """Return the feet of whoever walks behind, with legs that are broken off."""
    outline = (
        (95, 420), (75, 90), (HEEL_MM, 0), (-TOES_MM, 0), (-TOES_MM, 60), (-35, 120), (-50, 420)
    )  # fmt: skip
    return polyline(((at + x, z) for x, z in outline), "thin")


def box_of(marks: Iterable[Ink]) -> tuple[MM, MM, MM, MM]:
    """Return the box that holds the lines of some marks."""
    boxes = [
        Outline(mark.vertices).box if mark.closed else _ends(mark) for mark in marks if isinstance(mark, Path)
    ]
    lows, highs = [box[:2] for box in boxes], [box[2:] for box in boxes]
    return (
        min(x for x, _ in lows),
        min(z for _, z in lows),
        max(x for x, _ in highs),
        max(z for _, z in highs),
    )


def _ends(mark: Path) -> tuple[MM, MM, MM, MM]:
    xs, zs = [x for x, _, _ in mark.vertices], [z for _, z, _ in mark.vertices]
    return min(xs), min(zs), max(xs), max(zs)


def _wheel(at: Point, radius: MM) -> tuple[Ink, ...]:
    """Return a wheel with its tyre and hub; a large one lets what is behind it be seen."""
    see_through = radius > 200
    return (
        ring(at, radius, pen="outline", fill="none" if see_through else "paper"),
        ring(at, radius * 0.82, pen="thin", fill="none"),
        ring(at, radius * 0.14, pen="thin"),
    )


def _hanging(shape: RollingShape) -> Iterable[Ink]:
    for low in shape.lows:
        if low.part == "footrest":
            yield line((low.from_mm, low.height_mm), (max(low.to_mm, low.from_mm), low.height_mm), "outline")
        elif low.part == "anti-tip wheels":
            radius = min(40.0, max(low.height_mm, 20.0))
            axle = shape.axles[-1]
            yield line((axle.behind_mm, axle.radius_mm), (low.from_mm, low.height_mm + radius), "outline")
            yield ring((low.from_mm, low.height_mm + radius), radius, pen="thin")


# Who sits on it
# ----------------------------------------------------------------------------------------------


def _seated(back: MM, seat: MM, toes: MM, floor: MM, hand: Point, size: float = 1.0) -> tuple[Ink, ...]:
    """Return somebody who sits against `back` on a seat, the toes on a floor, a hand somewhere; `size` 1 is
    grown up.
    """

    def sat(x: MM, z: MM) -> Point:
        return back + x * size, seat + z * size

    def stood(x: MM, z: MM) -> Point:
        return toes + x * size, floor + z * size

    outline = (
        sat(0, 0), sat(10, 430), sat(-20, 530), sat(-60, 585), sat(-125, 585), sat(-170, 510),
        sat(-215, 300), sat(-215, 165), sat(-535, 170), sat(-590, 100),
        stood(140, 120), stood(0, 60), stood(0, 0), stood(250, 0), stood(240, 100), sat(-465, 0),
    )  # fmt: skip
    head = ring(sat(-100, 680), HEAD_MM * (size + 1) / 2, pen="thin", fill="carrier")
    arm = polyline((sat(-95, 480), sat(-75, 230), hand), "thin")
    return _rounded(outline, 55 * size), head, arm


def _rider(shape: RollingShape, seat: MM, hand: Callable[[MM], Point]) -> tuple[MM, tuple[Ink, ...]]:
    """Return where the backrest is, and somebody against it with the feet on the footrests, or behind the
    front wheels where there are none.
    """
    rests = next((low for low in shape.lows if low.part == "footrest"), None)
    if rests is not None:
        toes, floor = rests.from_mm, rests.height_mm
    else:
        toes, floor = shape.axles[0].radius_mm + 40, _underside(shape) + 40
    back = toes + _REACH_MM
    return back, _seated(back, seat, toes, floor, hand(back))


def _underside(shape: RollingShape) -> MM:
    return next(low.height_mm for low in shape.lows if low.part == "underside")


# What they sit on, or push
# ----------------------------------------------------------------------------------------------


def _chair(shape: RollingShape) -> Body:
    """A chair of tubes on large rear wheels."""
    seat, last, front = SEAT_MM, shape.axles[-1], shape.axles[0]
    on_rim = shape.driven is not None
    rim = (last.behind_mm - 0.5 * last.radius_mm, last.radius_mm * 1.8)
    back, rider = _rider(shape, seat, lambda back: rim if on_rim else (back - 320, seat + 225))
    marks = (
        *rider,
        line((0.0, front.radius_mm), (back - 470, seat), "outline"),
        line((last.behind_mm, last.radius_mm), (back, seat), "outline"),
        *_seat(back, seat),
    )
    return _with_handle(shape, back, seat, marks)


def _powered(shape: RollingShape) -> Body:
    """A chair on a box with batteries and motors."""
    seat, low = SEAT_MM + 20, _underside(shape)
    back, rider = _rider(shape, seat, lambda back: (back - 340, seat + 225))
    first = 0.12 * shape.wheelbase_mm
    base = [
        (first, low),
        (shape.wheelbase_mm, low),
        (shape.wheelbase_mm, seat - 170),
        (first + 60, seat - 170),
    ]
    post = [
        (back - 260, seat - 170),
        (back - 140, seat - 170),
        (back - 140, seat - 20),
        (back - 260, seat - 20),
    ]
    marks = (polygon(post, "thin", "inner"), _rounded(base, 60.0, "inner"), *rider, *_seat(back, seat))
    return _with_handle(shape, back, seat, marks)


def _scooter(shape: RollingShape) -> Body:
    """A floor between the wheels, a seat on a post at the back, and a tiller."""
    seat, last, low, front = 580.0, shape.wheelbase_mm, _underside(shape), shape.axles[0].radius_mm
    tiller = (front + 190, 960.0)
    back, rider = _rider(shape, seat, lambda _: (tiller[0] + 20, tiller[1] - 30))
    floor = [
        (-0.3 * front, 2.25 * front), (front + 20, 2.1 * front), (front + 90, low + 45),
        (back - 330, low + 45), (back - 300, seat - 190), (last + 60, seat - 200),
        (last + 110, 2.1 * front), (last, low), (front, low),
    ]  # fmt: skip
    marks = (
        line((back - 130, seat - 195), (back - 130, seat), "outline"),
        _rounded(floor, 40.0, "inner"),
        *rider,
        *_seat(back, seat, armrest=False),
        line((0.0, front), tiller, "outline"),
        line(tiller, (tiller[0] + 70, tiller[1] - 60), "outline"),
    )
    return Body(marks=marks)


def _pushchair(shape: RollingShape) -> Body:
    """A child's seat hung in a frame that is pushed."""
    first, last = shape.axles[0], shape.axles[-1]
    handle, seat = (last.behind_mm + 190, max(shape.push_height_mm, 500.0)), 470.0
    back, toes = 0.72 * last.behind_mm, 0.72 * last.behind_mm - _CHILD * _REACH_MM
    tub = [(back - 300, seat - 20), (back + 20, seat - 20), (back + 120, seat + 330), (back + 70, seat + 330)]
    marks = (
        _rounded(tub, 30.0, "inner"),
        *_seated(back, seat, toes, seat - 240, (back - 190, seat + 110), _CHILD),
        line((0.0, first.radius_mm), handle, "outline"),
        line((last.behind_mm, last.radius_mm), _between((0.0, first.radius_mm), handle, 0.42), "outline"),
        line((toes, seat - 240), (toes + 130, seat - 240), "outline"),
    )
    return Body(marks=marks, handle=handle)


def _barrow(shape: RollingShape) -> Body:
    """A tub over one wheel, with legs to put it down and shafts to lift it by."""
    wheel, last = shape.axles[0].radius_mm, shape.wheelbase_mm
    handle = (last, max(shape.push_height_mm, 300.0))
    shaft = (0.0, wheel)
    stands = _between(shaft, handle, 0.58)
    leg = (stands[0] + 20, min(_underside(shape), stands[1]))
    top = handle[1] + 30
    tub = [
        (-0.12 * last, top),
        (0.72 * last, top),
        _between(shaft, handle, 0.55),
        _between(shaft, handle, 0.16),
    ]
    heap = [(-0.1 * last, top), (0.15 * last, top + 160), (0.42 * last, top + 190), (0.7 * last, top)]
    marks = (
        _rounded(heap, 120.0, "timber"),
        _rounded(tub, 45.0, "inner"),
        line(shaft, handle, "outline"),
        polyline((stands, leg, _between(shaft, handle, 0.72)), "outline"),
    )
    return Body(marks=marks, handle=handle)


def _sack_truck(shape: RollingShape) -> Body:
    """A leaning frame on two wheels, boxes on its toe plate."""
    last = shape.wheelbase_mm
    handle = (last, max(shape.push_height_mm, 300.0))
    toe = (-0.1 * last, _underside(shape))
    along = math.dist(toe, handle)
    ux, uz = (handle[0] - toe[0]) / along, (handle[1] - toe[1]) / along

    def at(up: MM, out: MM) -> Point:
        return toe[0] + ux * up - uz * out, toe[1] + uz * up + ux * out

    boxes = (
        polygon((at(from_, 12), at(to, 12), at(to, out), at(from_, out)), "thin", "timber")
        for from_, to, out in ((12, 0.34 * along, 380), (0.34 * along, 0.62 * along, 330))
    )
    marks = (
        *boxes,
        line(toe, handle, "outline"),
        line(toe, at(0, 400), "outline"),
        line((0.0, shape.axles[0].radius_mm), at(0.2 * along, 0), "outline"),
    )
    return Body(marks=marks, handle=handle)


def _trolley(shape: RollingShape) -> Body:
    """A flat bed with boxes, and a bow at the back to push it by."""
    last, floor = shape.wheelbase_mm, _underside(shape)
    top, handle = floor + 50, (last + 170, max(shape.push_height_mm, 300.0))
    load = max(2 * (shape.centre_height_mm - top), 200.0)
    bed = [(-110.0, floor), (last + 110, floor), (last + 110, top), (-110.0, top)]
    box = [(-40.0, top), (0.6 * last, top), (0.6 * last, top + 0.6 * load), (-40.0, top + 0.6 * load)]
    tall = [(0.6 * last, top), (last + 40, top), (last + 40, top + load), (0.6 * last, top + load)]
    marks = (
        polygon(box, "thin", "timber"),
        polygon(tall, "thin", "timber"),
        polygon(bed, "thin", "inner"),
        polyline(((last + 100, top), (last + 110, handle[1] - 60), handle), "outline"),
    )
    return Body(marks=marks, handle=handle)


def _walking_frame(shape: RollingShape) -> Body:
    """A frame to lean on, with a seat between its legs."""
    first, last = shape.axles[0], shape.axles[-1]
    top = (0.6 * last.behind_mm, max(shape.push_height_mm, 300.0))
    handle = (top[0] + 170, top[1])
    fore, aft = (0.0, first.radius_mm), (last.behind_mm, last.radius_mm)
    marks = (
        polyline((fore, top, handle), "outline"),
        line(aft, _between(fore, top, 0.8), "outline"),
        line(_between(fore, top, 0.62), (last.behind_mm - 60, 0.62 * top[1]), "outline"),
    )
    return Body(marks=marks, handle=handle)


_BODIES: Final[dict[UserClass, Callable[[RollingShape], Body]]] = {
    "manual wheelchair": _chair,
    "self-propelled wheelchair": _chair,
    "lightweight wheelchair": _chair,
    "powered wheelchair": _powered,
    "middle-drive wheelchair": _powered,
    "front-drive wheelchair": _powered,
    "scooter": _scooter,
    "three-wheeled scooter": _scooter,
    "pushchair": _pushchair,
    "barrow": _barrow,
    "sack truck": _sack_truck,
    "hand trolley": _trolley,
    "walking frame": _walking_frame,
}


def _seat(back: MM, seat: MM, *, armrest: bool = True) -> tuple[Ink, ...]:
    rest = (line((back - 350, seat + 215), (back, seat + 215), "outline"),) if armrest else ()
    return polyline(((back - 470, seat), (back, seat), (back + 20, seat + 430)), "outline"), *rest


def _with_handle(shape: RollingShape, back: MM, seat: MM, marks: tuple[Ink, ...]) -> Body:
    if not shape.push_height_mm:
        return Body(marks=marks)
    handle = (back + 140, shape.push_height_mm)
    bent = polyline(((back + 20, seat + 400), (back + 30, handle[1]), handle), "outline")
    return Body(marks=(*marks, bent), handle=handle)


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _rounded(points: Sequence[Point], radius: MM, fill: Fill = "carrier", pen: Pen = "thin") -> Path:
    """Return a closed outline with its corners rounded, by less where its sides are short."""
    vertices: list[tuple[MM, MM, float]] = []
    for at, corner in enumerate(points):
        before, after = points[at - 1], points[(at + 1) % len(points)]
        come, go = math.dist(before, corner), math.dist(corner, after)
        turn = math.remainder(
            math.atan2(after[1] - corner[1], after[0] - corner[0])
            - math.atan2(corner[1] - before[1], corner[0] - before[0]),
            math.tau,
        )
        cut = min(radius * abs(math.tan(turn / 2)), 0.45 * come, 0.45 * go)
        if not come or not go or cut < 1.0:
            vertices.append((*corner, 0.0))
            continue
        vertices.append((*_between(corner, before, cut / come), math.tan(turn / 4)))
        vertices.append((*_between(corner, after, cut / go), 0.0))
    return Path(vertices=tuple(vertices), closed=True, pen=pen, fill=fill)
