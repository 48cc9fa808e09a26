"""The carrier view follows the document while it is seen, and says what to describe where nothing is
described.
"""

from dataclasses import replace

from PySide6.QtWidgets import QApplication

from rampdraft.app.shell.desk import Desk
from rampdraft.drawing.ink import Label
from rampdraft.mechanics.carrier.results import Standing
from rampdraft.model.design import Support

CORNERS = (
    ("near left", 300.0, 600.0),
    ("near right", 300.0, -600.0),
    ("far left", 1500.0, 600.0),
    ("far right", 1500.0, -600.0),
)
FOUR = tuple(
    Support(name=name, kind="spring", back_mm=back, across_mm=across, rate_n_mm=60.0)
    for name, back, across in CORNERS
)


def described(desk: Desk, supports: tuple[Support, ...] = FOUR) -> Desk:
    assert desk.document.design is not None
    body = replace(desk.document.design.carrier_body, body_kg=900.0, body_back_mm=900.0)
    desk.document.edit("carrier_body", body, "A body")
    desk.document.edit("supports", supports, "Four springs")
    desk.views.setCurrentWidget(desk.carrier)
    QApplication.processEvents()
    return desk


def words(desk: Desk) -> list[str]:
    picture = desk.carrier.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def test_without_supports_the_view_says_what_to_describe(desk: Desk) -> None:
    desk.document.edit("supports", (), "None")
    desk.views.setCurrentWidget(desk.carrier)
    QApplication.processEvents()
    assert desk.carrier.words.isVisible()
    assert "under Supports" in desk.carrier.words.text()
    assert not desk.carrier.canvas.isVisible()
    assert not desk.carrier.user.isVisible()


def test_the_worst_user_and_each_of_them_can_be_shown_from_both_sides(desk: Desk) -> None:
    panel = described(desk).carrier
    evaluation = desk.document.evaluation
    assert evaluation is not None
    standing = evaluation.standing
    assert isinstance(standing, Standing)
    assert not panel.words.isVisible()
    assert [panel.user.itemText(row) for row in range(1, panel.user.count())] == [
        climb.words for climb in standing.climbs
    ]
    assert words(desk)[-3:][0] == standing.worst_climb.words
    for row, climb in enumerate(standing.climbs, start=1):
        panel.user.setCurrentIndex(row)
        panel.user.activated.emit(row)
        for button, turn in ((panel.side, "nod"), (panel.end, "lean")):
            button.click()
            said = " ".join(words(desk))
            assert climb.words in said
            assert f", {turn} " in said
    before = panel.user.currentText()
    desk.document.edit("carrier_body.body_kg", 950.0, "Heavier")
    QApplication.processEvents()
    assert panel.user.currentText() == before


def test_the_picture_fits_the_sheet_at_its_own_scale(desk: Desk) -> None:
    panel = described(desk).carrier
    for button in (panel.side, panel.end):
        button.click()
        canvas = panel.canvas
        assert canvas.fitted
        assert canvas.picture is not None
        x0, y0, x1, y1 = canvas.picture.box
        per_px = canvas.per_paper_mm * 25.4 / canvas.logicalDpiX()
        assert (x1 - x0) <= 1.02 * canvas.width() * per_px
        assert (y1 - y0) <= 1.02 * canvas.height() * per_px


def test_nothing_is_drawn_while_the_view_is_hidden(desk: Desk) -> None:
    described(desk)
    before = desk.carrier.canvas.picture
    desk.views.setCurrentWidget(desk.side)
    desk.document.edit("carrier_body.body_kg", 1200.0, "Heavier")
    assert desk.carrier.canvas.picture is before
    desk.views.setCurrentWidget(desk.carrier)
    QApplication.processEvents()
    assert desk.carrier.canvas.picture is not before


def test_a_carrier_that_cannot_stand_says_why(desk: Desk) -> None:
    described(desk, FOUR[:1])
    assert any(text.startswith("Cannot stand") for text in words(desk))
    assert desk.carrier.user.count() == 1


def test_the_view_is_greyed_when_it_is_not_of_the_design_in_hand(desk: Desk) -> None:
    described(desk)
    desk.document.edit("inner_leaf.width_mm", -5.0, "Nonsense")
    QApplication.processEvents()
    assert desk.document.stale
    assert desk.carrier.canvas.note
