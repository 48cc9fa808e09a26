"""Every view alike: it follows the document when it is seen, and greys what is not the ramp in hand."""

import pytest
from PySide6.QtWidgets import QApplication

from rampdraft.app.shell.desk import Desk
from rampdraft.app.views.following import NOTHING_NOTE, STALE_NOTE, FollowingView

VIEWS = ("side", "fold_map", "rolling", "plan", "strength", "carrier", "pieces")


def view_of(desk: Desk, name: str) -> FollowingView:
    view = getattr(desk, name)
    assert isinstance(view, FollowingView)
    return view


@pytest.mark.parametrize("name", VIEWS)
def test_a_hidden_view_catches_up_when_it_is_shown(desk: Desk, name: str) -> None:
    view = view_of(desk, name)
    desk.views.setCurrentWidget(desk.plan if name != "plan" else desk.side)
    desk.document.edit("inner_leaf.length_mm", 1400.0, "Length")
    assert view._shown is not desk.document.evaluation
    desk.views.setCurrentWidget(view)
    QApplication.processEvents()
    assert view._shown is desk.document.evaluation


@pytest.mark.parametrize("name", VIEWS)
def test_a_view_says_why_it_shows_an_earlier_ramp_or_nothing(desk: Desk, name: str) -> None:
    view = view_of(desk, name)
    desk.views.setCurrentWidget(view)
    assert view._note == ""
    good = desk.document.evaluation
    desk.document.edit("inner_leaf.slat_pitch_mm", 20.0, "Pitch")
    assert view._note == STALE_NOTE
    assert view._shown is good
    broken = desk.document.design
    assert broken is not None
    desk.document.undo_stack.setClean()
    desk.document.open(broken, None)
    assert view._note == NOTHING_NOTE
    assert view._shown is None
