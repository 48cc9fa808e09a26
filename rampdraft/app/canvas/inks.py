"""Colours of lines and areas on the screen: those of paper in the light, quieter ones in the dark."""

from dataclasses import dataclass
from typing import Final

from rampdraft.app import theme
from rampdraft.drawing.ink import Fill, Pen
from rampdraft.drawing.style import STROKES, WASHES


@dataclass(frozen=True, slots=True, kw_only=True)
class Inks:
    """Colours by pen and by fill."""

    pens: dict[Pen, str]
    fills: dict[Fill, str]


LIGHT: Final = Inks(
    pens={pen: stroke.colour for pen, stroke in STROKES.items()},
    fills={
        **{fill: wash.colour for fill, wash in WASHES.items() if wash is not None},
        "paper": theme.LIGHT.paper,
    },
)

DARK: Final = Inks(
    pens={
        "outline": "#dcdad3",
        "thin": "#c9c8c2",
        "hidden": "#8f999c",
        "centre": "#8f999c",
        "ground": "#8f8a7e",
        "dimension": "#cfcdc6",
        "accent": theme.DARK.accent,
        "clash": theme.DARK.accent,
        "ghost": "#4d5558",
        "swept": "#2c3133",
    },
    fills={
        "paper": theme.DARK.paper,
        "inner": "#3a4e59",
        "outer": "#43533d",
        "carrier": "#3d3c38",
        "ground": "#322f2a",
        "timber": "#5e5035",
        "tight": "#3f3129",
        "swept": "#2c3133",
        "clash": "#5a3526",
    },
)


def current() -> Inks:
    """Return the table in use."""
    return DARK if theme.is_dark() else LIGHT
