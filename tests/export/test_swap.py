"""A folder is as it was or as it is meant to be, whenever the writing is killed."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from rampdraft.errors import FileError
from rampdraft.export import swap
from rampdraft.export.swap import clear_up, refusal, swap_in

OLD = {f"{folder}{number}.txt": b"old" * 500 for folder in ("", "profiles/") for number in range(3)}
NEW = {f"{folder}{number}.txt": b"new" * 500 for folder in ("", "views/") for number in range(2, 6)}


def found(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()
    }


@pytest.fixture(params=["in one step", "in two steps"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "in two steps":
        monkeypatch.setattr(swap, "_exchanged", lambda one, other: False)
    return request.param


def test_files_take_the_place_of_others_and_the_rest_stays(tmp_path: Path, way: str) -> None:
    folder = tmp_path / "pack"
    swap_in(folder, OLD, ())
    (folder / "profiles" / "own.dxf").write_bytes(b"mine")
    (folder / "far").mkdir()
    (folder / "far" / "notes").write_bytes(b"mine too")
    (folder / "link").symlink_to("far/notes")
    before = (folder / "far" / "notes").stat()
    folder.chmod(0o750)
    swap_in(folder, NEW, OLD)
    own = {"profiles/own.dxf": b"mine", "far/notes": b"mine too", "link": b"mine too"}
    assert found(folder) == NEW | own
    assert (folder / "link").is_symlink()
    after = (folder / "far" / "notes").stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert folder.stat().st_mode & 0o777 == 0o750
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


def test_a_linked_folder_stays_a_link(tmp_path: Path, way: str) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "pack").symlink_to("real")
    for files in (OLD, NEW):
        swap_in(tmp_path / "pack", files, OLD)
        assert (tmp_path / "pack").is_symlink()
        assert found(tmp_path / "real") == files


def test_what_cannot_be_put_in_place_leaves_the_old(
    tmp_path: Path, way: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "pack"
    swap_in(folder, OLD, ())
    monkeypatch.setattr(swap, "_exchanged", lambda one, other: False)
    real = Path.rename

    def only_aside(path: Path, goal: Path) -> Path:
        if path.name.endswith(".new"):
            raise OSError(13, "Permission denied", str(path))
        return real(path, goal)

    monkeypatch.setattr(Path, "rename", only_aside)
    with pytest.raises(OSError, match=r"pack'$"):
        swap_in(folder, NEW, OLD)
    assert found(folder) == OLD
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


@pytest.mark.skipif(sys.platform != "linux", reason="renameat2")
def test_linux_changes_folders_in_one_step(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert swap._exchanged(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "a" / "b").exists()
    assert not swap._exchanged(tmp_path / "a", tmp_path / "none")


def test_what_killed_runs_left_is_cleared_up_and_what_others_do_is_not(tmp_path: Path) -> None:
    dead = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True
    )
    process = int(dead.stdout)
    kept = [f".pack.{os.getpid()}-{'0' * 12}.new", f".other.{process}-{'0' * 12}.new", ".pack.new", "pack2"]
    for name in (*kept, f".pack.{process}-{'0' * 12}.new", f".pack.{process}-{'1' * 12}.old"):
        (tmp_path / name).mkdir()
    (tmp_path / f".pack.{process}-{'1' * 12}.old" / "a").touch()
    clear_up(tmp_path / "pack")
    assert {path.name for path in tmp_path.iterdir()} == {*kept, "pack"}
    assert (tmp_path / "pack" / "a").exists(), "the folder that was on its way out is back"


def test_a_folder_that_is_no_place_for_a_pack_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "pack"
    assert refusal(folder) is None
    (folder / "below").mkdir(parents=True)
    assert refusal(folder) is None
    for here in (folder, folder / "below"):
        monkeypatch.chdir(here)
        assert "that this program stands in" in refusal(folder).rule
    monkeypatch.chdir(tmp_path)
    assert "a whole disk" in refusal(Path("/")).rule
    monkeypatch.setattr(swap, "MOST_OTHERS", 3)
    for number in range(3):
        (folder / str(number)).touch()
    assert "holds more than 3 files" in refusal(folder).rule


def killed_at(step: int, folder: Path) -> bool:
    """Put NEW in the place of OLD in a process of its own that is killed at its `step`th call of the system.
    Return whether it was.
    """
    process = os.fork()
    if process == 0:
        count = 0

        def kill(event: str, _: object) -> None:
            nonlocal count
            count += event in ("open", "ctypes.call_function") or event.startswith(("os.", "shutil."))
            if count == step:
                os.kill(os.getpid(), signal.SIGKILL)

        sys.addaudithook(kill)
        try:
            swap_in(folder, NEW, OLD)
        finally:
            os._exit(0)
    return os.waitpid(process, 0)[1] != 0


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills by signal")
@pytest.mark.parametrize("each", [9, pytest.param(1, marks=pytest.mark.soak)])
def test_a_kill_at_any_moment_leaves_the_old_or_the_new(tmp_path: Path, way: str, each: int) -> None:
    folder, met = tmp_path / "pack", list[bool]()
    swap_in(folder, OLD, ())
    (folder / "own.txt").write_bytes(b"mine")
    step, killed = 1, True
    while killed:
        killed = killed_at(step, folder)
        if way == "in two steps":
            clear_up(folder)
        files = found(folder)
        assert files.pop("own.txt") == b"mine"
        assert files in (OLD, NEW)
        met.append(files == NEW)
        if files == NEW:
            swap_in(folder, OLD, NEW)
        clear_up(folder)
        assert [path.name for path in tmp_path.iterdir()] == ["pack"]
        step += each
    assert (met[0], met[-1]) == (False, True), "killed at once it is the old, and never killed the new"
    assert len(met) > 4


def test_a_name_too_long_is_told_by_the_folder_that_is_meant(tmp_path: Path) -> None:
    with pytest.raises((FileError, OSError)) as caught:
        swap_in(tmp_path / "pack", {"x" * 300: b""}, ())
    assert str(tmp_path / "pack") in str(caught.value)
    assert list(tmp_path.iterdir()) == []
