"""Files on the disk: what cannot be read or written is told, and an old file outlives a failed save."""

import errno
import os
import socket
import stat
from pathlib import Path

import pytest

from rampdraft.errors import FileError
from rampdraft.files import text_file
from rampdraft.files.text_file import LARGEST_BYTES, read_text, write_whole


def _only_problem(path: Path) -> str:
    with pytest.raises(FileError) as caught:
        read_text(path)
    (problem,) = caught.value.problems
    assert path.name in str(caught.value)
    return problem.text()


def test_text_is_read_with_and_without_the_mark_in_front(tmp_path: Path):
    for mark in (b"", b"\xef\xbb\xbf"):
        (tmp_path / "a.toml").write_bytes(mark + "Größe\r\n".encode())
        assert read_text(tmp_path / "a.toml") == "Größe\r\n"


def test_what_is_not_there_is_told(tmp_path: Path):
    assert "does not exist" in _only_problem(tmp_path / "none.toml")


def test_a_folder_is_told(tmp_path: Path):
    assert "is a folder" in _only_problem(tmp_path)


def test_a_file_below_a_file_is_told(tmp_path: Path):
    (tmp_path / "a").write_bytes(b"")
    assert "cannot be read" in _only_problem(tmp_path / "a" / "b")


def test_a_name_with_a_zero_byte_is_told():
    with pytest.raises(FileError, match="cannot be read"):
        read_text("a\0b")


def test_a_file_that_may_not_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    (tmp_path / "a.toml").write_bytes(b"x")

    def refuse(path: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(
        Path, "read_bytes", refuse
    )  # root may read everything, so the mode alone proves nothing
    assert "may not be read" in _only_problem(tmp_path / "a.toml")


def test_a_file_beyond_all_size_is_told_unread(tmp_path: Path):
    with open(tmp_path / "big.toml", "wb") as stream:
        stream.truncate(LARGEST_BYTES + 1)
    assert "is larger than 500 kB" in _only_problem(tmp_path / "big.toml")
    with open(tmp_path / "big.toml", "wb") as stream:
        stream.write(b" " * LARGEST_BYTES)
    assert len(read_text(tmp_path / "big.toml")) == LARGEST_BYTES


def test_a_binary_is_told_with_its_line(tmp_path: Path):
    (tmp_path / "a.toml").write_bytes(b"a\nb\n\x00\x01")
    assert _only_problem(tmp_path / "a.toml").startswith("line 3: file: is no text file")


def test_text_in_another_encoding_is_told_with_its_line(tmp_path: Path):
    (tmp_path / "a.toml").write_bytes("a = 1\nb = 'Größe'\n".encode("latin-1"))
    assert _only_problem(tmp_path / "a.toml").startswith("line 2: file: is not UTF-8 text (byte 0xf6)")


@pytest.mark.skipif(not hasattr(socket, "AF_UNIX"), reason="needs a socket in the file system")
def test_what_is_no_ordinary_file_is_told(tmp_path: Path):
    with socket.socket(socket.AF_UNIX) as server:
        os.chdir(tmp_path)
        server.bind("s")
        assert "is no ordinary file" in _only_problem(tmp_path / "s")


def test_a_new_file_is_written_whole(tmp_path: Path):
    write_whole(tmp_path / "new.toml", b"text")
    assert (tmp_path / "new.toml").read_bytes() == b"text"
    assert [path.name for path in tmp_path.iterdir()] == ["new.toml"]


def test_permissions_of_an_old_file_are_kept(tmp_path: Path):
    path = tmp_path / "a.toml"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path):
    (tmp_path / "far").mkdir()
    (tmp_path / "far" / "real.toml").write_bytes(b"old")
    link = tmp_path / "link.toml"
    link.symlink_to(tmp_path / "far" / "real.toml")
    write_whole(link, b"new")
    assert link.is_symlink()
    assert (tmp_path / "far" / "real.toml").read_bytes() == b"new"


@pytest.mark.parametrize("step", ["replace", "fsync", "chmod"])
@pytest.mark.parametrize("reason", [errno.ENOSPC, errno.EIO])
def test_a_failed_save_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, reason: int
):
    path = tmp_path / "a.toml"
    path.write_bytes(b"old")

    def fail(*_: object) -> None:
        raise OSError(reason, os.strerror(reason))

    monkeypatch.setattr(text_file.os, step, fail)
    with pytest.raises(FileError, match=os.strerror(reason)):
        write_whole(path, b"new")
    monkeypatch.undo()
    assert path.read_bytes() == b"old"
    assert [other.name for other in tmp_path.iterdir()] == ["a.toml"]


def test_a_save_that_is_broken_off_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    path = tmp_path / "a.toml"
    path.write_bytes(b"old")

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(text_file.os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert [other.name for other in tmp_path.iterdir()] == ["a.toml"]


def test_a_disk_that_is_full_is_told(tmp_path: Path):
    if not Path("/dev/full").exists():
        pytest.skip("this system has no full device")
    with pytest.raises(FileError, match="Nothing was saved"):
        write_whole("/dev/full/a.toml", b"new")


def test_where_nothing_can_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    with pytest.raises(FileError, match="is a folder"):
        write_whole(tmp_path, b"new")
    with pytest.raises(FileError, match="a folder that does not exist"):
        write_whole(tmp_path / "none" / "a.toml", b"new")
    with pytest.raises(FileError, match="cannot be written"):
        write_whole(tmp_path / ("x" * 300), b"new")
    (tmp_path / "kept.toml").write_bytes(b"old")
    monkeypatch.setattr(text_file.os, "access", lambda *_: False)  # as for a file without the right to write
    with pytest.raises(FileError, match="is write-protected"):
        write_whole(tmp_path / "kept.toml", b"new")
    assert (tmp_path / "kept.toml").read_bytes() == b"old"
