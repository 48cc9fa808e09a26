"""Light, dark, and the size of letters."""

import math

import pytest
from PySide6.QtGui import QAction, QPalette
from PySide6.QtWidgets import QApplication, QMenu, QMenuBar

from rampdraft.app import looks, theme
from rampdraft.app.shell.desk import Desk
from rampdraft.app.theme import DARK, LIGHT, Theme


@pytest.fixture(autouse=True)
def as_before(alone: None):
    yield
    looks.choose_look("system")
    looks.choose_text_size(100)


def action(desk: Desk, *path: str) -> QAction:
    """Return an action by the words of its menus."""
    menu: QMenuBar | QMenu = desk.window.menuBar()
    for words in path[:-1]:
        found = next(one.menu() for one in menu.actions() if one.text().replace("&", "") == words)
        assert isinstance(found, QMenu)
        found.aboutToShow.emit()
        menu = found
    return next(one for one in menu.actions() if one.text().replace("&", "") == path[-1])


def test_dark_is_put_on_at_once_and_remembered(desk: Desk) -> None:
    action(desk, "View", "Light or dark", "Dark").trigger()
    assert QApplication.palette().color(QPalette.ColorRole.Base).name() == DARK.paper
    assert theme.current() is DARK
    assert looks.look() == "dark"
    assert action(desk, "View", "Light or dark", "Dark").isChecked()
    action(desk, "View", "Light or dark", "Light").trigger()
    assert QApplication.palette().color(QPalette.ColorRole.Base).name() == LIGHT.paper


@pytest.mark.parametrize("per_cent", looks.TEXT_SIZES)
def test_letters_are_as_large_as_chosen(desk: Desk, per_cent: int) -> None:
    usual = QApplication.font().pointSizeF()
    action(desk, "View", "Text size", f"{per_cent} %").trigger()
    assert QApplication.font().pointSizeF() == pytest.approx(usual * per_cent / 100)
    assert desk.form.font().pointSizeF() == pytest.approx(usual * per_cent / 100)
    assert theme.text_scale() == per_cent / 100


def test_letters_grow_and_shrink_by_steps_to_the_ends(desk: Desk) -> None:
    for first, steps, last in ((150, 1, 200), (100, -1, 80)):
        looks.choose_text_size(first)
        for _ in range(2):
            looks.step_text_size(steps)
            assert looks.text_size() == last


def contrast(a: str, b: str) -> float:
    """Return the contrast of two colours by WCAG 2.1: (L1 + 0.05) / (L2 + 0.05) of relative luminances."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else math.pow((c + 0.055) / 1.055, 2.4) for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("table", [LIGHT, DARK], ids=["light", "dark"])
def test_all_text_stands_out_by_four_and_a_half(table: Theme) -> None:
    """WCAG 2.1, 1.4.3: 4.5 : 1 for text."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    for behind in (table.desk, table.paper, table.wash):
        for text in (table.ink, table.quiet, table.accent):
            assert contrast(text, behind) >= 4.5, (text, behind)
    assert contrast(table.on_accent, table.accent) >= 4.5
