"""A view as SVG 1.1: true lengths in mm, arcs as arcs, text as text."""

import math
from collections.abc import Iterator
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from rampdraft.drawing.ink import Fill, Label, Path, Pen, Picture
from rampdraft.drawing.style import ACCENT, HATCH_PITCH_MM, STROKES, WASHES, in_tone
from rampdraft.geometry.outline import Profile, Vertex, disc
from rampdraft.units import MM

_MM_PER_PT: Final = 25.4 / 72
_ANCHORS: Final = {"left": "start", "centre": "middle", "right": "end"}


def picture_svg(picture: Picture, *, width_mm: MM = 240.0) -> str:
    """Return the picture's box as an SVG document `width_mm` wide on paper; letters keep their size whatever
    the scale.

    Members carry their key as a title, which browsers show at the pointer.
    """
    x0, y0, x1, y1 = picture.box
    scale = width_mm / (x1 - x0)
    height_mm = scale * (y1 - y0)
    view = _View(scale=scale, x0=x0, y1=y1)
    return "\n".join(
        (
            '<?xml version="1.0" encoding="UTF-8"?>',
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width_mm)}mm" height="{_n(height_mm)}mm"'
                f' viewBox="0 0 {_n(width_mm)} {_n(height_mm)}">'
            ),
            f"<title>{_text(picture.title)}</title>",
            f"<style>{''.join(_rules())}</style>",
            f"<defs>{_hatch()}</defs>",
            f'<rect width="{_n(width_mm)}" height="{_n(height_mm)}" fill="#ffffff"/>',
            *(view.path(mark) if isinstance(mark, Path) else view.label(mark) for mark in picture.marks),
            "</svg>\n",
        )
    )


def profile_svg(profile: Profile, title: str) -> str:
    """Return a profile for a cutter that reads SVG: true size, nothing but what is cut, outline and holes in
    a group each.
    """
    x0, y0, x1, y1 = profile.outline.box
    wide, tall, view = _n(x1 - x0), _n(y1 - y0), _View(scale=1.0, x0=x0, y1=y1)
    holes = [disc(hole.x_mm, hole.y_mm, hole.diameter_mm) for hole in profile.holes]
    groups = (("cut-outline", [profile.outline]), ("cut-holes", holes))
    return "\n".join(
        (
            '<?xml version="1.0" encoding="UTF-8"?>',
            (
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{tall}mm"'
                f' viewBox="0 0 {wide} {tall}">'
            ),
            f"<title>{_text(title)}</title>",
            *(
                f'<g id="{name}" fill="none" stroke="#000000" stroke-width="0.1">'
                + "".join(f'<path d="{view.shape(one.vertices, closed=True)}"/>' for one in outlines)
                + "</g>"
                for name, outlines in groups
                if outlines
            ),
            "</svg>\n",
        )
    )


class _View:
    """From the picture's mm, y up, to the paper's mm, y down."""

    def __init__(self, *, scale: float, x0: MM, y1: MM) -> None:
        self.scale, self.x0, self.y1 = scale, x0, y1

    def at(self, x: MM, y: MM) -> str:
        return f"{_n((x - self.x0) * self.scale)} {_n((self.y1 - y) * self.scale)}"

    def shape(self, vertices: tuple[Vertex, ...], *, closed: bool) -> str:
        steps = [f"M{self.at(*vertices[0][:2])}"]
        ends = (*vertices[1:], vertices[0]) if closed else vertices[1:]
        for (x0, y0, bulge), (x1, y1, _) in zip(vertices, ends, strict=False):
            if bulge:
                radius = _n(math.hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * abs(bulge)) * self.scale)
                large, sweep = int(abs(bulge) > 1), int(bulge < 0)
                steps.append(f"A{radius} {radius} 0 {large} {sweep} {self.at(x1, y1)}")
            else:
                steps.append(f"L{self.at(x1, y1)}")
        return "".join((*steps, "Z" if closed else ""))

    def path(self, path: Path) -> str:
        shape = self.shape(path.vertices, closed=path.closed)
        look = f'class="{path.pen} f-{path.fill}"{_shade(path)} d="{shape}"'
        hatched = f'<path class="h-{path.fill}" d="{shape}"/>' if _hatched(path.fill) else ""
        title = f"<title>{_text(path.owner)}</title>" if path.owner else ""
        return f"<path {look}>{title}</path>{hatched}" if title else f"<path {look}/>{hatched}"

    def label(self, label: Label) -> str:
        at, size = self.at(*label.at), _n(label.size_pt * _MM_PER_PT)
        x, y = at.split()
        turn = f' transform="rotate({_n(-label.angle_deg)} {at})"' if label.angle_deg else ""
        boxed = ' class="boxed" dy="0.36em"' if label.boxed else ""
        return (
            f'<text x="{x}" y="{y}" font-size="{size}" text-anchor="{_ANCHORS[label.anchor]}" '
            f"fill={quoteattr(STROKES[label.pen].colour)}{turn}{boxed}>{_text(label.text)}</text>"
        )


def _rules() -> Iterator[str]:
    yield "path{fill:none;stroke-linejoin:round;stroke-linecap:round}"
    yield "text{font-family:'DejaVu Sans',sans-serif}"
    yield ".boxed{paint-order:stroke;stroke:#ffffff;stroke-width:1.2}"
    pens: tuple[Pen, ...] = tuple(STROKES)
    for pen in pens:
        stroke = STROKES[pen]
        dash = (
            f";stroke-dasharray:{' '.join(map(_n, stroke.dash_mm))};stroke-linecap:butt"
            if stroke.dash_mm
            else ""
        )
        yield f".{pen}{{stroke:{stroke.colour};stroke-width:{_n(stroke.width_mm)}{dash}}}"
    for fill, wash in WASHES.items():
        if wash is not None:
            yield f".f-{fill}{{fill:{wash.colour}}}"
            if wash.hatched:
                yield f".h-{fill}{{fill:url(#hatch);stroke:none}}"


def _hatch() -> str:
    pitch = _n(HATCH_PITCH_MM)
    return (
        f'<pattern id="hatch" width="{pitch}" height="{pitch}" patternUnits="userSpaceOnUse"'
        f' patternTransform="rotate(45)"><path d="M0 0V{pitch}" stroke="{ACCENT}"'
        ' stroke-width="0.5"/></pattern>'
    )


def _shade(path: Path) -> str:
    """Return what of an area's look is not that of its class: its tone, and the line in its own colour."""
    wash = WASHES[path.fill]
    if wash is None or (path.tone == 1.0 and path.pen != "own"):
        return ""
    colour = in_tone(wash.colour, path.tone)
    line = f";stroke:{colour}" if path.pen == "own" else ""
    return f' style="fill:{colour}{line}"'


def _hatched(fill: Fill) -> bool:
    wash = WASHES[fill]
    return wash is not None and wash.hatched


def _n(value: float) -> str:
    """Return a number with at most three decimals: a micrometre of paper."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(text: str) -> str:
    """Return user text for XML: escaped, and without the characters that XML 1.0 forbids (production 2,
    Char).
    """
    return escape("".join(letter if _allowed(letter) else "?" for letter in text))


def _allowed(letter: str) -> bool:
    code = ord(letter)
    return code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000
