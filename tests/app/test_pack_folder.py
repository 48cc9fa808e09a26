"""The pack is offered a folder that is not there yet, and what will happen in another is said beforehand."""

from pathlib import Path

from PySide6.QtWidgets import QDialogButtonBox
from stand_in import answers

from rampdraft.app.shell import settings
from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.pack_folder import PackFolder, new_folder


def test_a_name_that_is_taken_is_counted_on(tmp_path: Path) -> None:
    assert new_folder(tmp_path, "ramp") == tmp_path / "ramp"
    (tmp_path / "ramp").mkdir()
    (tmp_path / "ramp 2").write_text("")
    assert new_folder(tmp_path, "ramp") == tmp_path / "ramp 3"


def test_it_is_said_what_will_happen_there(desk: Desk, tmp_path: Path) -> None:
    for name, file in (("pack", "pack.txt"), ("mine", "notes.txt"), ("empty", "")):
        (tmp_path / name).mkdir()
        if file:
            (tmp_path / name / file).write_text("")
    dialog = PackFolder(tmp_path / "new", desk.window)
    assert dialog.folder == tmp_path / "new"
    told = {}
    for name in ("new", "pack", "mine", "empty"):
        dialog.line.setText(str(tmp_path / name))
        told[name] = dialog.words.text()
        assert dialog.write.isEnabled()
    assert "will be made" in told["new"]
    assert "replaced" in told["pack"]
    assert "they stay" in told["mine"]
    assert len(set(told.values())) == 4
    for wrong in ("", "here/below"):
        dialog.line.setText(wrong)
        assert not dialog.write.isEnabled()
    assert dialog.findChild(QDialogButtonBox) is not None
    dialog.deleteLater()


def test_an_export_offers_a_new_folder_of_the_designs_name(desk: Desk, tmp_path: Path) -> None:
    settings.remember_file(tmp_path / "x.toml")
    desk.filing.export()
    offered = answers(desk).offered
    assert offered is not None
    assert offered.parent == tmp_path
    assert not offered.exists()
    assert desk.document.title.removesuffix(".toml").split()[0] in offered.name
