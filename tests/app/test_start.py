"""The start offers the survey, what was open last, and samples with their pictures."""

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest

from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.start.dialog import StartDialog
from rampdraft.app.start.pictures import picture_of
from rampdraft.files.samples import sample_paths, samples_folder


def ink(path: Path) -> int:
    """Return how many of 12 000 pixels are no bare paper."""
    image = picture_of(path, QSize(200, 60), 1.0).toImage()
    return sum(image.pixelColor(x, y).lightness() < 240 for x in range(200) for y in range(60))


def started(desk: Desk) -> StartDialog:
    desk.start_work.open(after=desk.tour_work.begin_once)
    dialog = desk.start_work.dialog
    assert dialog is not None
    return dialog


def test_each_sample_stands_there_with_ink_on_its_picture(desk: Desk) -> None:
    dialog = started(desk)
    assert dialog.samples.count() == len(sample_paths())
    for path in sample_paths():
        assert ink(path) > 200, path
    assert ink(samples_folder() / "nowhere.toml") == 0
    assert not dialog.recent.isVisible()
    dialog.reject()


def test_enter_on_a_sample_opens_a_copy_of_it(desk: Desk) -> None:
    dialog = started(desk)
    dialog.samples.setFocus()
    dialog.samples.setCurrentRow(0)
    QTest.keyClick(dialog.samples, Qt.Key.Key_Return)
    assert desk.start_work.dialog is None
    assert desk.document.path is None
    assert desk.document.folder == samples_folder()
    assert not desk.notice.words
    desk.tour_work.close()


def test_what_was_open_last_stands_first(desk: Desk, tmp_path: Path) -> None:
    mine = Path(shutil.copy(samples_folder() / "too-steep.toml", tmp_path / "mine.toml"))
    settings.remember_file(mine)
    dialog = started(desk)
    assert dialog.recent.isVisible()
    line = dialog.recent.item(0)
    assert line.text().startswith("mine")
    QTest.mouseClick(
        dialog.recent.viewport(), Qt.MouseButton.LeftButton, pos=dialog.recent.visualItemRect(line).center()
    )
    assert desk.document.path == mine
    desk.tour_work.close()


def test_the_survey_follows_the_start_and_the_tour_follows_the_survey(desk: Desk) -> None:
    started(desk).survey.click()
    survey = desk.propose_work.dialog
    assert survey is not None
    assert desk.tour_work.card is None
    survey.back.click()
    assert desk.tour_work.card is not None
    desk.tour_work.close()


@pytest.mark.parametrize("seen", [False, True])
def test_the_plain_ramp_goes_on_with_the_tour_once(desk: Desk, seen: bool) -> None:
    if seen:
        settings.remember_tour_seen()
    started(desk).plain.click()
    assert (desk.tour_work.card is None) is seen
    assert settings.tour_seen()
    desk.tour_work.close()
