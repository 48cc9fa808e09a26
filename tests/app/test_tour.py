"""The tour points at five places, goes by keys, and comes by itself once only."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.tour.stops import STOPS


def test_it_points_at_five_places_in_the_window(desk: Desk) -> None:
    desk.tour_work.begin()
    card, around = desk.tour_work.card, desk.tour_work.around
    assert card is not None
    assert around is not None
    assert [stop.place for stop in STOPS] == ["steps", "form", "drawing", "checks", "export"]
    seen = []
    for number, stop in enumerate(STOPS, start=1):
        assert card.accessibleName() == f"Tour: {number} of 5. {stop.title}"
        assert card.accessibleDescription() == stop.words
        assert desk.window.rect().contains(card.geometry())
        assert desk.window.rect().contains(around.geometry())
        seen.append(around.geometry())
        if number < len(STOPS):
            card.next.click()
    assert len({place.getRect() for place in seen}) == 5
    card.next.click()
    assert desk.tour_work.card is None


def test_keys_lead_through_it_and_out_and_the_focus_comes_back(desk: Desk) -> None:
    desk.checks.list.setFocus()
    before = desk.window.focusWidget()
    desk.tour_work.begin()
    card = desk.tour_work.card
    assert card is not None
    assert desk.window.focusWidget() is card.next
    QTest.keyClick(card.next, Qt.Key.Key_Right)
    QTest.keyClick(card.next, Qt.Key.Key_Return)
    assert desk.tour_work.at == 2
    QTest.keyClick(card.next, Qt.Key.Key_Left)
    assert desk.tour_work.at == 1
    QTest.keyClick(card.next, Qt.Key.Key_Escape)
    assert desk.tour_work.card is None
    assert desk.window.focusWidget() is before


def test_it_comes_by_itself_once_and_again_when_asked_for(desk: Desk) -> None:
    assert not settings.tour_seen()
    desk.tour_work.begin_once()
    assert desk.tour_work.card is not None
    desk.tour_work.close()
    desk.tour_work.begin_once()
    assert desk.tour_work.card is None
    desk.tour_work.begin()
    assert desk.tour_work.card is not None
    desk.tour_work.close()


def test_it_stays_beside_its_place_when_the_window_changes(desk: Desk) -> None:
    desk.tour_work.begin()
    work = desk.tour_work
    assert work.card is not None
    assert work.around is not None
    for _ in range(3):
        work.card.next.click()
    desk.window.resize(1000, 700)
    QTest.qWait(10)
    assert work.around.geometry() == work.place("checks")
    assert desk.window.rect().contains(work.card.geometry())
    work.close()
