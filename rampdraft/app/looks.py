"""Light or dark, and how large letters are: chosen by menu, remembered, put on at once."""

from typing import Final, Literal, get_args

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from rampdraft.app import theme
from rampdraft.app.shell import settings

Look = Literal["system", "light", "dark"]

LOOKS: Final[tuple[Look, ...]] = get_args(Look)
_NAMED: Final[dict[str, Look]] = {one: one for one in LOOKS}
TEXT_SIZES: Final = (80, 100, 125, 150, 200)
"""In per cent of what the system has."""


def dress() -> None:
    """Put on the palette and the letters that are chosen."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        return
    app.setProperty(theme.LOOK, look())
    app.setProperty(theme.TEXT_SIZE, text_size())
    own = app.property(_OWN_FONT)
    if own is None:
        own = QFont(app.font())
        app.setProperty(_OWN_FONT, own)
    font = QFont(own)
    if font.pointSizeF() > 0:
        font.setPointSizeF(font.pointSizeF() * text_size() / 100)
    else:
        font.setPixelSize(max(1, round(font.pixelSize() * text_size() / 100)))
    app.setPalette(theme.palette(theme.current()))
    app.setFont(font)
    app.setStyleSheet(theme.style_sheet(theme.current()))


_OWN_FONT: Final = "rampdraft_own_font"


def look() -> Look:
    """Return which table of colours is chosen; as the system has it where nothing is."""
    return _NAMED.get(settings.look(), "system")


def text_size() -> int:
    """Return how large letters are, in per cent."""
    kept = settings.text_size()
    return kept if kept in TEXT_SIZES else 100


def choose_look(wanted: Look) -> None:
    """Choose a table of colours."""
    if wanted == look():
        return
    settings.remember_look(wanted)
    dress()


def choose_text_size(per_cent: int) -> None:
    """Choose how large letters are."""
    if per_cent == text_size():
        return
    settings.remember_text_size(per_cent)
    dress()


def step_text_size(steps: int) -> None:
    """Make letters larger or smaller by so many sizes, as far as there are any."""
    at = TEXT_SIZES.index(text_size()) + steps
    choose_text_size(TEXT_SIZES[max(0, min(at, len(TEXT_SIZES) - 1))])
