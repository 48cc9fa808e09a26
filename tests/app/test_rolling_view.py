"""The rolling view follows the document while it is seen; user, site and way are chosen, played and jumped
to; the table is worked out aside, the newest edit wins.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rampdraft.app import kept_rolling
from rampdraft.app.shell.desk import Desk
from rampdraft.app.views import rolling_table
from rampdraft.app.views.chart import EDGE_PX
from rampdraft.app.views.rolling import NOBODY
from rampdraft.drawing.ink import Label
from rampdraft.drawing.rolling_charts import front_of, share_of
from rampdraft.drawing.rolling_words import ALL_WAYS, Row, rows_of
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.model.fields.paths import with_value


@pytest.fixture
def rolling(desk: Desk, qtbot: QtBot) -> Desk:
    """The barn's ramp, rolled over."""
    desk.filing.open_path(sample("barn-stage"))
    desk.views.setCurrentWidget(desk.rolling)
    QApplication.processEvents()
    return desk


def sample(name: str) -> Path:
    return next(path for path in sample_paths() if path.stem == name)


def shown(desk: Desk) -> Roll:
    found = desk.rolling._rolling
    assert isinstance(found, tuple)
    return found[0]


def words(desk: Desk) -> list[str]:
    picture = desk.rolling.canvas.picture
    assert picture is not None
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def choose(box: Any, row: int) -> None:
    box.setCurrentIndex(row)
    box.activated.emit(row)
    QApplication.processEvents()


def test_it_begins_at_the_worst_place_of_the_first_user(rolling: Desk) -> None:
    found, bar = shown(rolling), rolling.rolling.bar
    assert (found.user, found.site_number, found.facing) == (1, 1, "deck")
    assert bar.spots[0].worst == found.clearance
    assert bar.share == share_of(found, found.clearance.front_mm)
    assert bar.places.currentText() == bar.spots[0].words
    assert any(text == f"footrest, {found.clearance.value:.1f} clear" for text in words(rolling))


def test_a_deck_that_sinks_is_drawn_as_it_lies_at_the_scrubber(desk: Desk) -> None:
    """The trolley stands on springs: further up the ramp is lower, and drawn so."""
    desk.filing.open_path(sample("orchard-trolley"))
    desk.views.setCurrentWidget(desk.rolling)
    QApplication.processEvents()
    view = desk.rolling
    states = [view.site.itemData(row)[1] for row in range(view.site.count())]
    assert states == ["empty", "sinking", "loaded"] * 2
    choose(view.site, 1)
    found = shown(desk)
    assert found.state == "sinking"
    assert found.drop_mm.max() > found.drop_mm.min() + 5
    view.bar.slider.setValue(50)
    QApplication.processEvents()
    first = view.canvas.picture
    view.bar.slider.setValue(950)
    QApplication.processEvents()
    assert view.canvas.picture != first
    assert isinstance(view._rolling, tuple)
    front = front_of(found, view.bar.share)
    (stretch,) = found.about(front).stretches
    at = found.stretches.index(stretch)
    assert view._sheet is not None
    assert view.canvas.picture == view._sheet[1].picture(view._rolling[1][at].at(front))


def test_user_site_and_way_are_chosen(rolling: Desk) -> None:
    view, design = rolling.rolling, rolling.document.design
    assert design is not None
    assert [view.user.itemText(at) for at in range(3)] == [
        f"{at}  {user.name}" for at, user in enumerate(design.use.users, start=1)
    ]
    choose(view.user, 2)
    choose(view.site, 3)
    choose(view.way, ALL_WAYS.index("up backwards"))
    found = shown(rolling)
    assert (found.user, found.site_number, found.state, found.facing) == (3, 2, "loaded", "away")
    assert view.canvas.picture is not None
    assert view.canvas.picture.title == "Pushchair rolling up backwards"
    assert "Most push" in " ".join(spot.words for spot in view.bar.spots)


def test_the_drawing_fills_its_sheet(rolling: Desk) -> None:
    canvas = rolling.rolling.canvas
    assert canvas.fitted
    assert canvas.picture is not None
    x0, z0, x1, z1 = canvas.picture.box
    room = canvas.room_mm
    across, up = (x1 - x0) / canvas.per_paper_mm, (z1 - z0) / canvas.per_paper_mm
    assert (across, up) == pytest.approx(room, rel=0.01)


@pytest.mark.parametrize(
    ("play", "way", "end"), [("up", "up forwards", 0.0), ("down", "down backwards", 1.0)]
)
def test_it_plays_both_ways_to_the_end(
    rolling: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, play: str, way: str, end: float
) -> None:
    monkeypatch.setattr("rampdraft.app.views.roll_bar.PLAY_S", 0.3)
    view = rolling.rolling
    button = getattr(view.bar, play)
    button.click()
    assert view.bar.playing
    assert button.text() == "Pause"
    assert view.way.currentData() == way
    qtbot.waitUntil(lambda: not view.bar.playing)
    assert view.bar.share == end
    assert button.text() == f"Play {play}"
    button.click()
    assert view.bar.share == 1.0 - end
    button.click()
    assert not view.bar.playing


def test_turning_back_keeps_the_place_and_plays_the_other_way(rolling: Desk) -> None:
    view = rolling.rolling
    view.bar.go(0.4)
    view.bar.play_down()
    assert view.way.currentData() == "down backwards"
    assert view.bar.playing
    assert view.bar.share == pytest.approx(0.4, abs=0.1)
    view.bar.play_up()
    assert view.way.currentData() == "up forwards"
    assert view.bar.playing
    rolling.views.setCurrentWidget(rolling.side)
    assert not view.bar.playing


def test_the_scrubber_moves_the_user(rolling: Desk) -> None:
    view = rolling.rolling
    view.bar.slider.setValue(250)
    assert view.bar.share == 0.25
    assert view.bar.places.currentIndex() == -1
    found = shown(rolling)
    sheet = view._sheet
    assert sheet is not None
    assert isinstance(view._rolling, tuple)
    assert view.canvas.picture == sheet[1].picture(view._rolling[1][0].at(front_of(found, 0.25)))


def test_a_worst_place_is_gone_to_from_the_list_and_from_its_chart(rolling: Desk) -> None:
    view = rolling.rolling
    found = shown(rolling)
    assert found.tip_back is not None
    row = [spot.key for spot in view.bar.spots].index("tip_back")
    choose(view.bar.places, row)
    assert view.bar.share == share_of(found, found.tip_back.front_mm)
    force = view.bar.force
    assert force.strip is not None
    share = force.strip.marked[0]
    beside = EDGE_PX + share * (force.width() - 2 * EDGE_PX) + 3
    QTest.mouseClick(force, Qt.MouseButton.LeftButton, pos=QPoint(round(beside), force.height() // 2))
    assert view.bar.share == share == share_of(found, found.ways[0].push.front_mm)
    assert view.bar.places.currentData() == "push"
    QTest.mouseClick(force, Qt.MouseButton.LeftButton, pos=QPoint(round(beside) + 40, force.height() // 2))
    assert view.bar.places.currentIndex() == -1


def test_charts_say_what_is_found_exactly_there(rolling: Desk) -> None:
    view = rolling.rolling
    assert isinstance(view._rolling, tuple)
    view.bar.go(0.31)
    user = view._rolling[1][0].at(front_of(shown(rolling), 0.31))
    assert view.bar.clearance._known == user.low.clearance_mm
    assert view.bar.force._known == user.forces_n[0]


def test_a_drag_shows_the_worst_place_of_the_ramp_in_hand_and_the_table_waits(
    rolling: Desk, qtbot: QtBot
) -> None:
    view, document = rolling.rolling, rolling.document
    design = document.design
    assert design is not None
    qtbot.waitUntil(lambda: not view.table.working)
    before = shown(rolling)
    longer = with_value(design, "inner_leaf.length_mm", design.inner_leaf.length_mm + 40)
    with qtbot.waitSignal(document.changed):  # the hand rests
        document.preview(longer)
    found = shown(rolling)
    assert found.front_mm[-1] > before.front_mm[-1] + 20
    assert found.step_mm > before.step_mm
    assert view.bar.share == share_of(found, found.clearance.front_mm)
    assert not view.table.working
    assert not view.table.table.isEnabled()
    assert "let go" in view.table.words.text()
    document.replace(longer, "Longer")
    assert shown(rolling).step_mm == before.step_mm
    assert shown(rolling).clearance.value == pytest.approx(found.clearance.value, abs=0.011)
    assert view.table.working
    qtbot.waitUntil(view.table.table.isEnabled)


# The table
# ----------------------------------------------------------------------------------------------


def cells(desk: Desk) -> list[list[str]]:
    table = desk.rolling.table.table
    found = [[table.item(row, at) for at in range(table.columnCount())] for row in range(table.rowCount())]
    return [[item.text() if item is not None else "" for item in row] for row in found]


def test_the_table_tells_every_user_over_every_site_each_way(rolling: Desk, qtbot: QtBot) -> None:
    view, evaluation = rolling.rolling, rolling.document.evaluation
    assert evaluation is not None
    view.all_users.click()
    assert view.table.isVisible()
    assert not view.bar.curves.isVisible()
    qtbot.waitUntil(lambda: not view.table.working)
    rolls = roll_everywhere(
        evaluation.design,
        evaluation.assembly,
        evaluation.sites,
        evaluation.straight,
        None,
        evaluation.props_set,
    )
    rows = rows_of(rolls, 3, (1, 2))
    lines = cells(rolling)
    names = [user.name for user in evaluation.design.use.users]
    assert [line[0] for line in lines if not line[1]] == [f"{at}  {name}" for at, name in enumerate(names, 1)]
    assert [line[1:] for line in lines if line[1]] == [
        [row.told[way].words for way in ALL_WAYS] for row in rows
    ]
    assert "grounds" in view.table.words.text()


def test_a_cell_of_the_table_is_gone_to(rolling: Desk, qtbot: QtBot) -> None:
    view = rolling.rolling
    view.all_users.click()
    qtbot.waitUntil(lambda: not view.table.working)
    at, line = next(
        (at, line)
        for at, line in enumerate(view.table.lines)
        if isinstance(line, Row) and (line.user, line.site_number) == (2, 2)
    )
    view.table.table.cellClicked.emit(at, 1 + ALL_WAYS.index("down forwards"))
    told, found = line.told["down forwards"], shown(rolling)
    assert told.worst is not None
    assert (found.user, found.site_number, found.state, found.facing) == (2, 2, told.state, "away")
    assert view.way.currentData() == "down forwards"
    assert view.bar.share == pytest.approx(share_of(found, told.worst.front_mm), abs=1e-6)
    view.table.table.cellClicked.emit(0, 2)  # a name alone leads nowhere
    assert shown(rolling) is found


def test_while_the_table_is_worked_out_it_says_so_and_the_newest_edit_wins(
    rolling: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    view, document = rolling.rolling, rolling.document
    qtbot.waitUntil(lambda: not view.table.working)
    assert document.design is not None
    length = document.design.inner_leaf.length_mm
    for more in (5, 10):
        document.edit("inner_leaf.length_mm", length + more, "Longer")
        assert view.table.working
        assert not view.table.table.isEnabled()
        assert view.table.words.text().startswith(rolling_table.WORKING)
    came: list[object] = []
    view.table.rolling.line.came.connect(lambda about, _: came.append(about))
    qtbot.waitUntil(lambda: not view.table.working)
    assert came == [document.made]
    evaluation = document.evaluation
    assert evaluation is not None
    assert evaluation.design.inner_leaf.length_mm == length + 10
    assert evaluation.rolling is view.table._shown  # worked out once, for checks and table
    document.edit("about.name", "Another name", "Name")
    assert not view.table.working  # nothing that rolling reads


def test_a_fault_in_the_table_is_said(rolling: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    from rampdraft.errors import RampdraftError

    view, document = rolling.rolling, rolling.document
    qtbot.waitUntil(lambda: not view.table.working)

    def wrong(*_: object) -> None:
        raise RampdraftError("no")

    monkeypatch.setattr(kept_rolling, "roll_everywhere", wrong)
    assert document.design is not None
    document.edit("inner_leaf.length_mm", document.design.inner_leaf.length_mm + 5, "Longer")
    qtbot.waitUntil(lambda: view.table.words.text() == rolling_table.BROKEN)
    assert not view.table.table.isEnabled()


# What cannot be shown
# ----------------------------------------------------------------------------------------------


def with_users(desk: Desk, change: Callable[[Any], Any]) -> None:
    assert desk.document.design is not None
    desk.document.edit("use.users", change(desk.document.design.use.users), "Users")
    QApplication.processEvents()


def test_without_users_the_view_says_what_to_add(rolling: Desk) -> None:
    with_users(rolling, lambda _: ())
    assert rolling.rolling.canvas.picture is None
    assert rolling.rolling.canvas.note == NOBODY
    assert not rolling.rolling.bar.isEnabled()


def test_a_user_too_wide_is_named_and_another_can_be_chosen(rolling: Desk) -> None:
    wide = {"front_track_mm": 1200.0, "rear_track_mm": 1200.0}
    with_users(rolling, lambda users: (replace(users[0], **wide), *users[1:]))
    assert rolling.rolling.canvas.picture is None
    assert rolling.rolling.canvas.note.startswith("Too wide: 12")
    choose(rolling.rolling.user, 1)
    assert rolling.rolling.canvas.picture is not None
    assert rolling.rolling.bar.isEnabled()


def test_nothing_is_worked_out_while_the_view_is_hidden(desk: Desk) -> None:
    assert desk.rolling._rolling is None
    assert not desk.rolling.table.lines
    assert desk.rolling.canvas.picture is None


def test_everything_is_named_for_those_who_cannot_see_it(rolling: Desk) -> None:
    view = rolling.rolling
    named = (view.user, view.site, view.way, view.bar.slider, view.bar.places, view.table.table, view.canvas)
    assert all(widget.accessibleName() for widget in named)
    assert all(chart.accessibleName() and chart.accessibleDescription() for chart in view.bar.charts)
    assert "Rolling" in [name for _, name in rolling.views.named]
