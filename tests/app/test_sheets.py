"""What will be printed is shown page by page, ticked, and printed at its true size."""

import io
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas
from stand_in import answers

from rampdraft.app.sheets import printing
from rampdraft.app.sheets.dialog import SheetsDialog
from rampdraft.app.shell.desk import Desk
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export import pack

A4_PT = (595.2756, 841.8898)
"""210 x 297 mm (ISO 216), at 72 points to the inch."""
A3_PT = (1190.5512, 841.8898)


def paper(*sizes: tuple[float, float], title: str = "") -> bytes:
    stream = io.BytesIO()
    canvas = Canvas(stream)
    for size in sizes:
        if title:
            canvas.bookmarkPage(str(size))
            canvas.addOutlineEntry(title, str(size))
        canvas.setPageSize(size)
        canvas.rect(72, 72, 72, 72, fill=1)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


@pytest.fixture
def sheets(desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> SheetsDialog:
    def made(evaluation: Evaluation, progress: object) -> dict[str, bytes]:
        return {"templates": paper(A4_PT, title="Coped ends"), "bench-pack": paper(A3_PT, A4_PT)}

    monkeypatch.setattr(pack, "papers", made)
    desk.sheet_work.open()
    dialog = desk.sheet_work.dialog
    assert dialog is not None
    qtbot.waitUntil(lambda: dialog.tree.topLevelItemCount() == 2)
    return dialog


def test_pages_stand_under_their_papers_and_one_is_shown_large(sheets: SheetsDialog, qtbot: QtBot) -> None:
    sheets.resize(1100, 560)
    names = [sheets.tree.topLevelItem(at).text(0) for at in range(2)]
    assert names == ["Bench pack", "Templates"]
    assert [sheets.tree.topLevelItem(at).childCount() for at in range(2)] == [2, 1]
    qtbot.waitUntil(lambda: sheets.page.pixmap().width() > 0)
    first = sheets.page.pixmap()
    assert first.width() / first.height() == pytest.approx(420 / 297, rel=0.01)
    assert sheets.page.accessibleName() == "Bench pack, Page 1"
    sheets.tree.setCurrentItem(sheets.tree.topLevelItem(1).child(0))
    qtbot.waitUntil(lambda: sheets.page.pixmap().height() > sheets.page.pixmap().width())
    assert sheets.tree.currentItem().text(0) == "Page 1\nCoped ends"
    assert sheets.page.accessibleName() == "Templates, Page 1, Coped ends"
    whole = sheets.page.pixmap().width()
    sheets.shown[1].click()
    qtbot.waitUntil(lambda: sheets.page.pixmap().width() > whole)
    sheets.reject()


def test_what_is_ticked_is_printed_each_page_on_paper_of_its_size(
    desk: Desk, sheets: SheetsDialog, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(printing, "DPI", 50.0)
    answers(desk).save_path = tmp_path / "printed.pdf"
    sheets.tree.topLevelItem(0).child(1).setCheckState(0, Qt.CheckState.Unchecked)
    assert "2 of 3" in sheets.words.text()
    with qtbot.waitSignal(sheets.printing.ended):
        sheets.print.click()
    assert sheets.words.text() == "Printed."
    sheets.reject()
    pages = PdfReader(tmp_path / "printed.pdf").pages
    sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in pages]
    assert sizes == [pytest.approx(A3_PT, abs=1.5), pytest.approx(A4_PT, abs=1.5)]


def test_nothing_ticked_prints_nothing_and_no_printer_changes_nothing(
    desk: Desk, sheets: SheetsDialog
) -> None:
    sheets.print.click()  # nobody chose a printer
    assert not sheets.printing.going_on
    sheets.none.click()
    assert sheets.ticked == ()
    assert not sheets.print.isEnabled()
    sheets.all.click()
    assert len(sheets.ticked) == 3
    assert sheets.print.isEnabled()
    sheets.reject()


def test_printing_can_be_stopped(desk: Desk, sheets: SheetsDialog, tmp_path: Path) -> None:
    answers(desk).save_path = tmp_path / "printed.pdf"
    sheets.print.click()
    assert sheets.printing.going_on
    assert not sheets.tree.isEnabled()
    sheets.print.click()
    assert not sheets.printing.going_on
    assert sheets.words.text() == "Not all was printed."
    assert sheets.tree.isEnabled()
    sheets.reject()


def test_values_that_contradict_each_other_are_told_instead(desk: Desk) -> None:
    desk.document.edit("inner_leaf.length_mm", -5.0, "Change")
    desk.sheet_work.open()
    assert desk.sheet_work.dialog is None
    assert answers(desk).said[-1][0] == "Nothing to print yet"
