"""The pack in its folder: what is written, what is taken away, what is left alone, what is said when it
cannot be.
"""

import errno
import json
import os
import tomllib
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from packed import packed, sample
from timber_ramp import timber_ramp

from rampdraft.checks.notes import CAUTIONS
from rampdraft.errors import ExportError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.export import swap
from rampdraft.export.dxf import is_worth_cutting
from rampdraft.export.json_report import report
from rampdraft.export.pack import PACK_LIST, write_pack
from rampdraft.export.revision import revision_of
from rampdraft.files.design_file import load_design
from rampdraft.files.rule_files import add_folder
from rampdraft.files.samples import samples_folder
from rampdraft.geometry.developed import worth_unrolling
from rampdraft.model.fields.paths import with_value
from rampdraft.progress import Cancelled

DESIGN = timber_ramp()


def evaluated(**changes):
    design = DESIGN
    for path, value in changes.items():
        design = with_value(design, path.replace("__", "."), value)
    return evaluate(design)


EVALUATION = evaluated()


FERRY = "reed-ferry"
"""The sample whose pack is looked at whole."""


def names(folder):
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_the_pack_holds_every_part_the_lists_the_sheets_the_views_and_the_design():
    folder, parts = packed(FERRY), sample(FERRY).parts
    found = names(folder)
    cut = [part for part in parts if is_worth_cutting(part)]
    assert {
        *(f"profiles/RF1-{part.number}{ending}" for part in cut for ending in (".dxf", ".svg")),
        *(
            f"profiles/RF1-{part.number}-unrolled.dxf"
            for part in cut
            if worth_unrolling(part.piece) is not None
        ),
    } == {name for name in found if "profiles/" in name}
    assert found - {name for name in found if "profiles/" in name} == {
        "Reed-ferry.toml",
        "bench-pack.pdf",
        "check-sheet.pdf",
        "hand-over.pdf",
        "templates.pdf",
        "drawings.dxf",
        "all-parts.dxf",
        "part-list.csv",
        "cut-list.csv",
        "cutting-plan.csv",
        "hole-list.csv",
        "weld-list.csv",
        "purchase-list.csv",
        "assembly.csv",
        "key-dimensions.csv",
        "remarks.csv",
        "lists.xlsx",
        "checks.json",
        "pack.txt",
        "views/plan.svg",
        "views/stowed.svg",
        "views/site-1.svg",
        "views/site-2.svg",
        "views/site-3.svg",
    }


def test_each_file_is_what_its_ending_says():
    folder = packed(FERRY)
    assert load_design(folder / "Reed-ferry.toml") == load_design(samples_folder() / f"{FERRY}.toml")
    assert all(path.read_bytes().startswith(b"%PDF-") for path in folder.glob("*.pdf"))
    assert json.loads((folder / "checks.json").read_text(encoding="utf-8"))["cautions"] == list(CAUTIONS)
    assert (
        tomllib.loads((folder / "Reed-ferry.toml").read_text(encoding="utf-8"))["inner_leaf"]["length_mm"]
        == sample(FERRY).design.inner_leaf.length_mm
    )
    for path in folder.rglob("*.dxf"):
        assert ezdxf.readfile(path).audit().errors == []
    for path in folder.rglob("*.svg"):
        assert "</svg>" in path.read_text(encoding="utf-8")


def test_the_list_names_all_files_and_carries_the_cautions():
    folder = packed(FERRY)
    text = (folder / PACK_LIST).read_text(encoding="utf-8")
    assert {line.strip() for line in text.split("Files:\n")[1].splitlines()} == names(folder) - {PACK_LIST}
    assert all(caution in text for caution in CAUTIONS)


def test_writing_again_changes_nothing(light_pack, tmp_path):
    first = write_pack(EVALUATION, tmp_path)
    before = {path: path.read_bytes() for path in first}
    assert write_pack(EVALUATION, tmp_path) == first
    assert {path: path.read_bytes() for path in first} == before


def test_what_the_pack_before_had_and_this_one_has_not_is_taken_away(light_pack, tmp_path):
    write_pack(EVALUATION, tmp_path)
    assert (tmp_path / "profiles/R1-OTF.dxf").exists()
    write_pack(evaluated(toe__kind="plain", about__name="Other ramp"), tmp_path)
    assert not (tmp_path / "profiles/R1-OTF.dxf").exists()
    assert not (tmp_path / "New-ramp.toml").exists()
    assert (tmp_path / "Other-ramp.toml").exists()
    assert "New-ramp" not in (tmp_path / PACK_LIST).read_text(encoding="utf-8")


def test_a_change_of_case_alone_does_not_take_the_new_file_away(light_pack, tmp_path):
    write_pack(EVALUATION, tmp_path)
    write_pack(evaluated(about__name="NEW RAMP"), tmp_path)
    assert (tmp_path / "NEW-RAMP.toml").exists()


def test_other_files_in_the_folder_are_left_alone(light_pack, tmp_path):
    for name in ("notes.txt", "profiles/own.dxf", "views/own.svg"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("mine")
    write_pack(EVALUATION, tmp_path)
    write_pack(evaluated(toe__kind="plain"), tmp_path)
    assert all(
        (tmp_path / name).read_text() == "mine" for name in ("notes.txt", "profiles/own.dxf", "views/own.svg")
    )


@pytest.mark.parametrize("name", ["New-ramp.toml", "part-list.csv", "profiles/R1-IR1.dxf"])
def test_a_file_of_the_user_is_not_overwritten(light_pack, tmp_path, name):
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_text("mine")
    before = names(tmp_path)
    with pytest.raises(ExportError, match="belongs to no pack"):
        write_pack(EVALUATION, tmp_path)
    assert (tmp_path / name).read_text() == "mine"
    assert names(tmp_path) == before


@pytest.mark.parametrize(
    "line",
    [
        "../outside.txt",
        "/etc/outside.dxf",
        "profiles/../../outside.dxf",
        "own.doc",
        "other/own.dxf",
        "profiles/.dxf",
        ".toml",
    ],
)
def test_a_list_that_names_something_else_takes_nothing_away(light_pack, tmp_path, line):
    folder = tmp_path / "pack"
    write_pack(EVALUATION, folder)
    (tmp_path / "outside.dxf").write_text("mine")
    with (folder / PACK_LIST).open("a", encoding="utf-8") as stream:
        stream.write(f"  {line}\n")
    before = names(tmp_path)
    with pytest.raises(ExportError, match="no file of a pack"):
        write_pack(evaluated(toe__kind="plain"), folder)
    assert names(tmp_path) == before


def test_a_foreign_pack_txt_is_left_alone(light_pack, tmp_path):
    (tmp_path / PACK_LIST).write_text("what I pack for the holidays")
    with pytest.raises(ExportError, match="no list of a pack"):
        write_pack(EVALUATION, tmp_path)
    assert names(tmp_path) == {PACK_LIST}


def test_a_linked_folder_is_refused(light_pack, tmp_path):
    elsewhere, folder = tmp_path / "elsewhere", tmp_path / "pack"
    elsewhere.mkdir()
    folder.mkdir()
    (folder / "profiles").symlink_to(elsewhere)
    with pytest.raises(ExportError, match="is a link"):
        write_pack(EVALUATION, folder)
    assert names(elsewhere) == set()


def test_a_file_in_place_of_the_folder_is_told_in_words(light_pack, tmp_path):
    (tmp_path / "pack").write_text("a file")
    with pytest.raises(ExportError, match="is a file and no folder") as raised:
        write_pack(EVALUATION, tmp_path / "pack")
    assert raised.value.problems[0].way_out
    with pytest.raises(ExportError, match="lies below a file"):
        write_pack(EVALUATION, tmp_path / "pack" / "below")


def test_a_name_that_is_none_is_told_in_words(light_pack):
    with pytest.raises(ExportError, match="is no name of a folder"):
        write_pack(EVALUATION, Path("a\0b"))


@pytest.mark.parametrize(
    ("code", "words"),
    [
        (errno.EACCES, "may not be written"),
        (errno.EROFS, "only be read"),
        (errno.ENOSPC, "no room"),
        (errno.EIO, "cannot be written"),
    ],
)
def test_what_the_system_refuses_is_told_in_words(light_pack, tmp_path, monkeypatch, code, words):
    def refuse(self, *args, **kwargs):
        raise OSError(code, os.strerror(code), str(self))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(ExportError, match=words) as raised:
        write_pack(EVALUATION, tmp_path / "pack")
    assert str(tmp_path / "pack") in str(raised.value)
    assert raised.value.problems[0].way_out


def test_what_hinders_the_writing_is_told_before_anything_is_made(tmp_path):
    (tmp_path / "file").write_text("a file")
    below, link = tmp_path / "file" / "below", tmp_path / "linked"
    link.mkdir()
    (link / "profiles").symlink_to(tmp_path)
    made = []
    for folder in (below, link, Path("/proc/pack")):
        with pytest.raises(ExportError):
            write_pack(EVALUATION, folder, lambda share, words: made.append(words))
    assert made == []


def told(folder):
    """Return all that is below a folder, each file with what is in it."""
    return {
        path.relative_to(folder).as_posix(): path.is_file() and path.read_bytes()
        for path in folder.rglob("*")
    }


@pytest.mark.parametrize("room", [0, 5, 21])
def test_a_disk_that_fills_up_leaves_the_old_pack_and_nothing_else(light_pack, tmp_path, monkeypatch, room):
    folder = tmp_path / "pack"
    write_pack(EVALUATION, folder)
    before, real, left = told(tmp_path), swap.write_whole, [room]

    def until_full(path, data):
        left[0] -= 1
        if left[0] < 0:
            raise OSError(errno.ENOSPC, "No space left on device", str(path))
        real(path, data)

    monkeypatch.setattr(swap, "write_whole", until_full)
    with pytest.raises(ExportError, match="no room left") as raised:
        write_pack(evaluated(about__name="Other ramp"), folder)
    assert str(folder) in str(raised.value)
    assert ".new" not in str(raised.value)
    assert told(tmp_path) == before


@pytest.mark.parametrize("name", ["profiles/R1-IR1.dxf", "pack.txt", "checks.json", "."])
def test_one_write_protected_file_is_named_and_nothing_is_touched(light_pack, tmp_path, name):
    folder = tmp_path / "pack"
    write_pack(EVALUATION, folder)
    before, mode = told(tmp_path), (folder / name).stat().st_mode
    (folder / name).chmod(mode & ~0o222)
    with pytest.raises(ExportError, match="is write-protected") as raised:
        write_pack(evaluated(toe__kind="plain"), folder)
    assert str(folder / name) in str(raised.value)
    assert told(tmp_path) == before
    (folder / name).chmod(mode)


def test_calling_it_off_changes_nothing(light_pack, tmp_path):
    def progress(share, words):
        if share > 0.4:
            raise Cancelled

    with pytest.raises(Cancelled):
        write_pack(EVALUATION, tmp_path / "pack", progress)
    assert not (tmp_path / "pack").exists()


def test_progress_rises_from_0_to_1_and_names_what_is_made(light_pack, tmp_path):
    told = []
    write_pack(EVALUATION, tmp_path, lambda share, words: told.append((share, words)))
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0, 1)
    assert any(words == "all-parts.dxf" for _, words in told)


@pytest.mark.parametrize("name", ["../../x", "CON", "", "a/b\\c", "x" * 80, "=1+1", "ü\u0308"])
def test_no_name_of_a_ramp_leads_out_of_the_folder(light_pack, tmp_path, name):
    folder = tmp_path / "pack"
    about = replace(DESIGN.about, name=name, drawing_number=name[:20])
    write_pack(Evaluation(replace(DESIGN, about=about), EVALUATION.rule_sets), folder)
    assert {path.name for path in tmp_path.iterdir()} == {"pack"}
    assert {path.relative_to(folder).parent.as_posix() for path in folder.rglob("*.*")} == {
        ".",
        "profiles",
        "views",
    }
    cut = [part for part in EVALUATION.parts if is_worth_cutting(part)]
    unrolled = [part for part in cut if worth_unrolling(part.piece) is not None]
    assert len(list(folder.rglob("profiles/*.dxf"))) == len(cut) + len(unrolled)


RULES = """version = 1
key = "our-shed"
title = "Our shed"
status = "user's own"
jurisdiction = "Our own yard"
publication = "Minutes of our meeting in May"

[[limit]]
id = "slope"
title = "Slope"
clause = "item 3"
quantity = "gradient"
sense = "at most"
limit = 8
unit = "1:N"
"""


def test_a_pack_is_checked_like_the_design_that_it_was_made_from(light_pack, tmp_path):
    path = samples_folder() / "barn-stage.toml"
    evaluation = evaluate(load_design(path), path.parent)
    assert evaluation.design.use.rule_sets == ("rules/barn-assisted.toml",)
    write_pack(evaluation, tmp_path)
    again = evaluate(load_design(tmp_path / "Barn-stage.toml"), tmp_path)
    assert again.checks == evaluation.checks
    told = json.loads((tmp_path / "checks.json").read_text(encoding="utf-8"))
    assert told.pop("revision") == revision_of(again) == revision_of(evaluation)
    assert told == json.loads(json.dumps(report(again)))
    rules = (tmp_path / "rules/barn-assisted.toml").read_bytes()
    assert rules == (path.parent / "rules/barn-assisted.toml").read_bytes()


def test_own_rules_from_anywhere_are_taken_into_the_pack_as_they_were_when_judged(light_pack, tmp_path):
    beside, elsewhere, folder = tmp_path / "design", tmp_path / "elsewhere", tmp_path / "pack"
    for path in (beside, elsewhere):
        path.mkdir()
    add_folder(elsewhere)
    (beside / "a b.toml").write_text(RULES, encoding="utf-8")
    (elsewhere / "a b.toml").write_text(RULES.replace("our-shed", "con"), encoding="utf-8")
    named = ("a b.toml", "us-vehicle", str(elsewhere / "a b.toml"), "./a b.toml")
    evaluation = evaluate(with_value(DESIGN, "use.rule_sets", named), beside)
    (beside / "a b.toml").write_text("no rules any more", encoding="utf-8")
    write_pack(evaluation, folder)
    design = load_design(folder / "New-ramp.toml")
    assert design.use.rule_sets == ("rules/our-shed.toml", "us-vehicle", "rules/ramp-con.toml")
    assert evaluate(design, folder).checks == evaluation.checks
    write_pack(EVALUATION, folder)
    assert not list(folder.glob("rules/*")), "no longer named by the design"


def test_a_linked_folder_of_rules_is_refused_where_the_pack_before_used_it(light_pack, tmp_path):
    folder, elsewhere = tmp_path / "pack", tmp_path / "elsewhere"
    (tmp_path / "shed.toml").write_text(RULES, encoding="utf-8")
    write_pack(evaluate(with_value(DESIGN, "use.rule_sets", ("shed.toml",)), tmp_path), folder)
    (folder / "rules").rename(elsewhere)
    (folder / "rules").symlink_to(elsewhere)
    with pytest.raises(ExportError, match="is a link"):
        write_pack(EVALUATION, folder)
    assert names(elsewhere) == {"our-shed.toml"}
