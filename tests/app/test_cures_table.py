"""What fewer springs and ballast do stands below the carrier, as the mechanics find it."""

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rampdraft.app.shell.desk import Desk
from rampdraft.app.views.carrier import NO_TWIST
from rampdraft.explore.carrier_cures import cures
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


def with_trolley(desk: Desk) -> Desk:
    path = next(path for path in sample_paths() if path.stem == "orchard-trolley")
    desk.document.open(load_design(path), None, path.parent)
    desk.views.setCurrentWidget(desk.carrier)
    QApplication.processEvents()
    return desk


def test_the_table_shows_both_effects(desk: Desk, qtbot: QtBot) -> None:
    table = with_trolley(desk).carrier.cures.table
    qtbot.waitUntil(lambda: table.rowCount() > 0)
    evaluation = desk.document.evaluation
    assert evaluation is not None
    found = cures(evaluation.design, evaluation.assembly, evaluation.ramp_grades)
    assert found is not None
    shown = [[table.item(row, column).text() for column in range(4)] for row in range(table.rowCount())]  # type: ignore[union-attr]
    assert [row[1] for row in shown] == [f"{100 * cure.twist_share:.0f} %" for cure in found.rows]
    assert [row[3] for row in shown] == [f"{cure.edge_drop_mm:.1f} mm" for cure in found.rows]
    assert shown[1][0].startswith("Springs half as stiff")
    assert shown[2][0].startswith("Ballast of")
    softer, designed = found.rows[1], found.rows[0]
    assert softer.twist_share > designed.twist_share, "softer springs keep the wheels down"
    assert (softer.edge_drop_mm or 0) > (designed.edge_drop_mm or 0), "and let the deck sink more"


def test_the_newest_design_wins_and_an_old_table_is_greyed(desk: Desk, qtbot: QtBot) -> None:
    panel = with_trolley(desk).carrier.cures
    qtbot.waitUntil(lambda: panel.table.rowCount() > 0 and panel.table.isEnabled())
    before = panel.table.item(0, 1).text()  # type: ignore[union-attr]
    desk.document.edit("carrier_body.twist_mm", 30.0, "More twist")
    assert not panel.table.isEnabled()
    qtbot.waitUntil(panel.table.isEnabled)
    assert panel.table.item(0, 1).text() != before  # type: ignore[union-attr]


def test_a_table_of_an_earlier_design_is_greyed_while_a_value_cannot_be(desk: Desk, qtbot: QtBot) -> None:
    panel = with_trolley(desk).carrier.cures
    qtbot.waitUntil(lambda: panel.table.rowCount() > 0 and panel.table.isEnabled())
    desk.document.edit("carrier.deck_drop_mm", 400.0, "Into the ground")
    assert desk.document.stale
    assert not panel.table.isEnabled()
    desk.document.undo_stack.undo()
    qtbot.waitUntil(panel.table.isEnabled)


def test_without_a_twist_it_says_what_to_give(desk: Desk, qtbot: QtBot) -> None:
    panel = with_trolley(desk).carrier.cures
    desk.document.edit("carrier_body.twist_mm", 0.0, "No twist")
    qtbot.waitUntil(lambda: panel.words.text() == NO_TWIST)
    assert not panel.table.isVisible()
