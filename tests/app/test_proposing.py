"""The survey and what is proposed for it: in the window, with a stand-in for the search."""

import threading
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot
from stand_in import answers

from rampdraft.app.form.entries import Entry
from rampdraft.app.proposing import dialog as proposing
from rampdraft.app.proposing.asking import Drawn, Found, drawn
from rampdraft.app.proposing.dialog import STALE, ProposeDialog
from rampdraft.app.shell.desk import Desk
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.results import Proposal, Proposals, figures_of
from rampdraft.explore.wishes.why import why_not
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.progress import Progress

HEIGHT, LOADED = "carrier.deck_height_mm", "carrier.deck_drop_mm"
Work = Callable[[Design, Path | None, Callable[[Drawn], object], Progress], Found]


@cache
def proposal() -> Proposal:
    design = replace(starter_design(), about=replace(starter_design().about, name="Proposed"))
    return Proposal(design=design, figures=figures_of(evaluate(design)), best=("light",))


def found(*chosen: Proposal, reason: str = "") -> Found:
    proposals = Proposals(chosen=chosen, found=chosen, nearest=None, tried=7, seconds=())
    return Found(proposals=proposals, chosen=tuple(drawn(one, None) for one in chosen), reason=reason)


def answering(answer: Found) -> Work:
    def work(_s: Design, _f: Path | None, _told: object, _progress: Progress) -> Found:
        return answer

    return work


@pytest.fixture
def opened(desk: Desk) -> ProposeDialog:
    desk.filing.new()
    assert desk.propose_work.dialog is not None
    return desk.propose_work.dialog


def type_into(entry: Entry, text: str) -> None:
    line = entry.editor.widget
    assert isinstance(line, QLineEdit)
    line.setText(text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def look(dialog: ProposeDialog, qtbot: QtBot) -> None:
    dialog.look.click()
    qtbot.waitUntil(lambda: not dialog.looking)


def take(dialog: ProposeDialog) -> None:
    buttons = dialog.proposals.findChildren(QPushButton)
    next(one for one in buttons if one.text() == "Open this ramp").click()


def test_what_is_typed_is_in_the_survey(desk: Desk, opened: ProposeDialog) -> None:
    page = opened.survey
    type_into(page.entry(HEIGHT), "51 cm")
    type_into(page.entry(LOADED), "475")
    type_into(page.sites.entries[0], "130")
    type_into(page.users.entries[0], "140")
    assert (page.survey.carrier.deck_height_mm, page.survey.carrier.deck_drop_mm) == (510, 35)
    assert page.survey.sites[1].ground_mm[2] == (300, 130)
    assert page.survey.use.users[0].mass_kg == 140
    assert not answers(desk).said, "Enter presses no button"


def test_a_value_that_cannot_be_is_told_beside_it_until_it_is_mended(opened: ProposeDialog) -> None:
    entry = opened.survey.entry(LOADED)
    for text, told in (("600", "higher than empty"), ("twelve", "no number"), ("5000", "must be from")):
        type_into(entry, text)
        assert told in entry.reason.text()
        assert not opened.look.isEnabled()
        type_into(entry, "400")
        assert not entry.reason.text()
        assert opened.look.isEnabled()


def test_wishes_that_exclude_each_other_are_told_at_once(opened: ProposeDialog) -> None:
    page = opened.survey
    assert not page.told.text()
    type_into(page.entry("use.rated_load_kg"), "100")
    assert why_not(page.survey, evaluate(page.survey).rule_sets) is not None
    assert "what would do" in page.told.text()


def test_places_and_users_come_and_go(opened: ProposeDialog) -> None:
    page = opened.survey
    page.sites.add("fall")
    page.users.entries[1].off.click()
    assert [site.name for site in page.survey.sites] == ["Level yard", "Kerb", "Falling ground"]
    assert len(page.survey.use.users) == 1
    boxes = page.sites.findChildren(QPushButton)
    next(one for one in boxes if one.toolTip() == "Leave out Kerb").click()
    assert [site.name for site in page.survey.sites] == ["Level yard", "Falling ground"]
    kinds = page.sites.kinds_of(1)
    kinds.activated.emit(kinds.findData("platform"))
    assert page.survey.sites[1].kind == "platform"
    page.users.entries[0].off.click()
    assert "use.users" in page.told.text()
    assert not opened.look.isEnabled()


def test_what_lies_in_the_shop_comes_and_goes(opened: ProposeDialog) -> None:
    page = opened.survey
    before = page.survey.stock
    assert not page.stock.entries
    page.stock.add(0)
    section, material, length, pieces = page.stock.entries
    type_into(section, "box 60x40x3")
    type_into(length, "2400")
    type_into(pieces, "2")
    material.editor.given.emit("steel S235")
    row = page.survey.stock[-1]
    assert (row.section.text, row.material, row.length_mm, row.in_hand) == (
        "box 60x40x3",
        "steel S235",
        2400,
        2,
    )
    type_into(section, "sixty by forty")
    assert section.reason.text()
    assert not opened.look.isEnabled()
    type_into(section, "box 50x50x3")
    assert opened.look.isEnabled()
    page.stock.entries[-1].off.click()
    assert page.survey.stock == before


def test_a_board_of_steel_is_told_at_once(opened: ProposeDialog) -> None:
    page = opened.survey
    page.stock.add(3)
    assert page.survey.stock[-1].section.kind == "timber"
    assert not page.told.text()
    page.stock.entries[1].editor.given.emit("steel S235")
    assert "timber" in page.told.text()
    assert not opened.look.isEnabled()


def test_a_shop_that_welds_aluminium_has_rails_of_it(opened: ProposeDialog) -> None:
    opened.survey.give("wishes.welds", "aluminium")
    assert "aluminium" in opened.survey.survey.made_of.rails
    assert opened.look.isEnabled()


def test_a_proposal_is_shown_while_the_search_goes_on_and_taken_as_a_new_document(
    desk: Desk, opened: ProposeDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    go = threading.Event()

    def work(_s: Design, _f: Path | None, told: Callable[[Drawn], object], progress: Progress) -> Found:
        told(drawn(proposal(), None))
        progress(0.5, "1 ramp that passes")
        assert go.wait(60)
        return found(proposal())

    monkeypatch.setattr(proposing, "work_out", work)
    opened.look.click()
    qtbot.waitUntil(lambda: opened.proposals.count == 1)
    assert opened.looking
    go.set()
    qtbot.waitUntil(lambda: not opened.looking)
    assert opened.proposals.table.rowCount() == 1
    take(opened)
    assert desk.document.design == proposal().design
    assert desk.document.path is None
    assert desk.propose_work.dialog is None


def test_a_ramp_for_the_document_in_hand_is_one_edit(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(proposing, "work_out", answering(found(proposal())))
    before = desk.document.design
    desk.propose_work.for_document()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    look(dialog, qtbot)
    take(dialog)
    assert desk.document.design == proposal().design
    desk.document.undo_stack.undo()
    assert desk.document.design == before


def test_the_survey_can_be_taken_alone(desk: Desk) -> None:
    desk.propose_work.for_document()
    dialog, before = desk.propose_work.dialog, desk.document.design
    assert dialog is not None
    assert before is not None
    dialog.survey.give(HEIGHT, 450.0)
    dialog.alone.click()
    assert desk.document.design == with_value(before, HEIGHT, 450.0)


def test_a_search_that_finds_nothing_says_why(
    opened: ProposeDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(proposing, "work_out", answering(found(reason="nothing fits.")))
    look(opened, qtbot)
    assert opened.words.text() == "none: nothing fits."
    assert opened.proposals.count == 0


def test_what_was_found_for_another_survey_is_greyed(
    opened: ProposeDialog, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(proposing, "work_out", answering(found(proposal())))
    look(opened, qtbot)
    assert opened.proposals.isEnabled()
    opened.survey.give(HEIGHT, 450.0)
    assert opened.words.text() == STALE
    assert not opened.proposals.isEnabled()


def test_going_back_gives_the_starter_or_leaves_the_document(desk: Desk, opened: ProposeDialog) -> None:
    opened.survey.give(HEIGHT, 450.0)
    QTest.keyClick(opened, Qt.Key.Key_Escape)
    assert desk.document.design == starter_design()
    desk.document.edit(HEIGHT, 455.0, "Higher")
    desk.propose_work.for_document()
    dialog = desk.propose_work.dialog
    assert dialog is not None
    dialog.reject()
    assert desk.document.design == with_value(starter_design(), HEIGHT, 455.0)


def test_the_rules_of_the_place_are_chosen_or_ticked(desk: Desk, opened: ProposeDialog) -> None:
    place = opened.survey.place
    at = place.kinds.findText("A building, a stage, a yard")
    place.kinds.setCurrentIndex(at)
    place.kinds.activated.emit(at)
    assert opened.survey.survey.use.rule_sets == ("us-building",)
    answers(desk).rules = ("uk-building", "germany-building")
    opened.survey.several.emit()
    assert opened.survey.survey.use.rule_sets == ("uk-building", "germany-building")
    assert place.rules.currentText() == "UK, buildings, Germany, buildings"
