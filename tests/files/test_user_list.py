"""Users that somebody keeps: what is in the list stays in it, whatever goes wrong."""

from dataclasses import replace
from pathlib import Path

import pytest

from rampdraft.errors import FileError
from rampdraft.files import text_file
from rampdraft.files.user_list import keep_user, load_users, take_off
from rampdraft.model.fields.values import MOST_ROWS
from rampdraft.model.rolling_shape import of_class

RED = replace(of_class("Red scooter", "scooter"), wheelbase_mm=912.5, front_radius_mm=0.0)
CHAIR = of_class('Anna\'s "chair"', "manual wheelchair")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "settings" / "users.toml"


def test_there_is_no_list_before_somebody_is_kept(path: Path) -> None:
    assert load_users(path) == ()
    assert not path.parent.exists()


def test_who_is_kept_is_read_back_to_the_last_value(path: Path) -> None:
    assert keep_user(RED, path) == RED
    assert keep_user(CHAIR, path) == CHAIR
    assert load_users(path) == (RED, CHAIR)
    assert take_off(RED, path) == (CHAIR,)
    assert load_users(path) == (CHAIR,)
    assert path.read_text(encoding="utf-8").startswith('format = "rampdraft user list"\nversion = 1\n')


def test_another_user_of_the_same_name_gets_a_number_and_the_same_one_is_kept_once(path: Path) -> None:
    keep_user(RED, path)
    assert keep_user(RED, path) == RED
    wider = replace(RED, width_mm=700.0)
    assert keep_user(wider, path).name == "Red scooter 2"
    assert load_users(path) == (RED, replace(wider, name="Red scooter 2"))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"rampdraft user list"', '"rampdraft design"', 'must be "rampdraft user list"'),
        ("version = 1", "version = 2", "written by a later version"),
        ("wheelbase_mm = 912.5", 'wheelbase_mm = "912.5"', "must be a number, not text"),
        ("wheelbase_mm = 912.5", "wheelbase_mm = 9125", "from 100 to 3000"),
        ("wheelbase_mm = 912.5", "wheel_base_mm = 912.5", "did you mean 'wheelbase_mm'?"),
        ("mass_kg = 200  # Mass, kg\n", "", "is missing: Mass, kg"),
        ("[[user]]", "[[users]]", "write [[user]] for each"),
        ("[[user]]", "[user]", "must be a list of tables"),
        ("= 912.5", "= ", "users.toml cannot be read as TOML"),
    ],
)
def test_a_list_that_cannot_be_read_is_told_with_its_line_and_left_as_it_is(
    path: Path, old: str, new: str, said: str
) -> None:
    keep_user(RED, path)
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    broken = path.read_bytes()
    for work in (lambda: load_users(path), lambda: keep_user(CHAIR, path), lambda: take_off(RED, path)):
        with pytest.raises(FileError) as caught:
            work()
        assert said in str(caught.value)
        assert "line " in str(caught.value)
        assert path.read_bytes() == broken


def test_a_failed_write_leaves_the_old_list(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keep_user(RED, path)
    monkeypatch.setattr(text_file.os, "replace", lambda *_: (_ for _ in ()).throw(OSError("disk full")))
    with pytest.raises(FileError, match="disk full"):
        keep_user(CHAIR, path)
    assert load_users(path) == (RED,)
    assert [one.name for one in path.parent.iterdir()] == ["users.toml"]


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "settings").write_text("a file", encoding="utf-8")
    with pytest.raises(FileError, match="Nothing was saved"):
        keep_user(RED, tmp_path / "settings" / "deeper" / "users.toml")


def test_what_could_not_be_read_back_is_not_kept(path: Path) -> None:
    keep_user(RED, path)
    with pytest.raises(FileError, match="from 100 to 3000"):
        keep_user(replace(CHAIR, wheelbase_mm=1.0), path)
    text = path.read_text(encoding="utf-8")
    head, _, row = text.partition("\n[[user]]\n")
    many = "".join(f"\n[[user]]\n{row.replace('Red scooter', f'Scooter {at}')}" for at in range(MOST_ROWS))
    path.write_text(head + many, encoding="utf-8")
    assert len(load_users(path)) == MOST_ROWS
    with pytest.raises(FileError, match="at most 200 times"):
        keep_user(CHAIR, path)
    assert len(load_users(path)) == MOST_ROWS
