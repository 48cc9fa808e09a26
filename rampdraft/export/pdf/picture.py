"""One view on a sheet of its own."""

from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.sheet import LANDSCAPE_MM, Placed
from rampdraft.drawing.style import QUIET
from rampdraft.export.pdf.book import Imprint, Plain, bound
from rampdraft.export.pdf.paper import Paper, shortened
from rampdraft.words.say import say

_MARGIN_MM: Final = 12.0
_FOOT_MM: Final = 8.0


def picture_pdf(picture: Picture, name: str) -> bytes:
    """Return a view as large as a sheet of A4 allows, not to scale, with the ramp's name and the first
    caution.
    """
    wide, tall = (LANDSCAPE_MM[0] - 2 * _MARGIN_MM, LANDSCAPE_MM[1] - 2 * _MARGIN_MM - _FOOT_MM)
    x0, y0, x1, y1 = picture.box
    placed = Placed(picture=picture, scale=max((x1 - x0) / wide, (y1 - y0) / tall))
    across, up = placed.size_mm
    at = (_MARGIN_MM + (wide - across) / 2, _MARGIN_MM + _FOOT_MM + (tall - up) / 2)
    foot = f"{name}, {say('{title}. Not to scale.', title=picture.title)} {say(CAUTIONS[0])}"

    def printed(paper: Paper) -> None:
        paper.placed(placed, *at)
        paper.text((_MARGIN_MM, _MARGIN_MM), shortened(foot, wide, 8.0), 8.0, colour=QUIET)

    title = f"{name}: {picture.title}"
    imprint = Imprint(title=title, number="", author="", date="", revision="")
    return bound([Plain(size_mm=LANDSCAPE_MM, ops=[printed])], imprint)
