"""How the program ends when something is wrong with it, or with where it writes: a code, and one line."""

import faulthandler
import os
import subprocess
import sys
from pathlib import Path

import pytest
from tries import first

from rampdraft.cli import guard
from rampdraft.cli.guard import BAD_INPUT, FAULT, guarded
from rampdraft.files import log
from rampdraft.files.log import log_file
from rampdraft.files.samples import samples_folder

ROOT = Path(__file__).parent.parent.parent
STAGE = samples_folder() / "barn-stage.toml"
POSIX = pytest.mark.skipif(os.name != "posix", reason="shells and devices of POSIX")
RAMPDRAFT = f"exec '{sys.executable}' -m rampdraft"


@pytest.fixture(autouse=True)
def own_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def shell(line: str, tmp_path: Path, **more: str) -> subprocess.CompletedProcess[str]:
    hidden = ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY")
    environment = {key: value for key, value in os.environ.items() if key not in hidden}
    environment |= {"PYTHONPATH": str(ROOT), "STAGE": str(STAGE)} | more
    return subprocess.run(
        ["sh", "-c", line],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    assert done.stderr.startswith("rampdraft: "), done.stderr
    assert done.stderr.count("\n") == 1, done.stderr
    return done.stderr


def faulty() -> int:
    raise ZeroDivisionError("division\nby nothing")


def test_a_fault_is_one_line_with_the_log_and_never_a_failed_check(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert guarded(faulty) == FAULT == 70
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(
        "rampdraft: a fault of the program: ZeroDivisionError: division by nothing (test_guard.py,"
    )
    assert err.endswith(f"; the log is {log_file()}\n")
    assert err.count("\n") == 1
    text = log_file().read_text(encoding="utf-8")
    assert "Traceback" in text
    assert "ZeroDivisionError: division" in text
    assert not log.LOGGER.handlers


def test_a_home_that_cannot_be_written_stops_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "data").write_text("a file, and no folder", encoding="utf-8")
    assert guarded(lambda: 3) == 3
    assert guarded(faulty) == FAULT
    assert f"; no log could be written to {log_file()}\n" in capsys.readouterr().err


def test_the_log_is_one_for_window_and_commands_and_turns_over(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(log, "_LARGEST_BYTES", 2000)
    for _ in range(12):
        assert guarded(faulty) == FAULT
    kept = sorted(log_file().parent.iterdir())
    assert [path.name for path in kept] == ["rampdraft.log", "rampdraft.log.1"]
    assert all(path.stat().st_size < 4000 for path in kept)


def test_the_crash_of_a_library_is_in_the_log_too() -> None:
    seen: list[bool] = []
    assert guarded(lambda: seen.append(faulthandler.is_enabled()) or 0) == 0
    assert seen == [True]


@POSIX
def test_what_crashes_leaves_its_place_in_the_log(tmp_path: Path) -> None:
    code = "import faulthandler, rampdraft.cli.guard as g; g.guarded(lambda: faulthandler._sigsegv())"
    done = shell(f"'{sys.executable}' -c '{code}'", tmp_path)
    assert done.returncode != 0
    assert "Segmentation fault" in log_file().read_text(encoding="utf-8")


@POSIX
def test_what_cannot_be_loaded_is_a_fault_too(tmp_path: Path) -> None:
    (tmp_path / "numpy.py").write_text("raise ImportError('broken on purpose')\n", encoding="utf-8")
    done = shell(f"{RAMPDRAFT} check $STAGE", tmp_path, PYTHONPATH=f"{tmp_path}:{ROOT}")
    assert done.returncode == FAULT
    assert "broken on purpose" in one_line(done)


@POSIX
@pytest.mark.parametrize(
    "command", first(2, ["check $STAGE", "fold $STAGE", "check $STAGE --json", "export $STAGE --to p"])
)
def test_a_closed_standard_output_is_told(tmp_path: Path, command: str) -> None:
    done = shell(f"{RAMPDRAFT} {command} >&-", tmp_path)
    assert done.returncode == BAD_INPUT
    assert "standard output is closed" in one_line(done)


@POSIX
@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs a full device")
@pytest.mark.parametrize("command", first(3, ["--help", "--version", "check $STAGE", "check $STAGE --json"]))
def test_a_full_disk_under_standard_output_is_told(tmp_path: Path, command: str) -> None:
    done = shell(f"{RAMPDRAFT} {command} >/dev/full", tmp_path)
    assert done.returncode == BAD_INPUT
    assert "standard output cannot be written: No space left" in one_line(done)


@POSIX
def test_with_nothing_to_tell_it_on_the_code_still_tells(tmp_path: Path) -> None:
    done = shell(f"{RAMPDRAFT} check none.toml >&- 2>&-", tmp_path)
    assert (done.returncode, done.stdout, done.stderr) == (BAD_INPUT, "", "")
    assert shell(f"{RAMPDRAFT} check $STAGE >/dev/null 2>&-", tmp_path).returncode == 0


@POSIX
def test_no_file_of_the_program_takes_the_place_of_a_closed_stream(tmp_path: Path) -> None:
    code = 'import os, rampdraft.cli.guard as g; g.guarded(lambda: (os.write(1, b"stray"), 0)[1])'
    shell(f"'{sys.executable}' -c '{code}' >&-", tmp_path)
    assert "stray" not in log_file().read_text(encoding="utf-8")


ASCII = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


@POSIX
def test_a_file_system_of_ascii_names_is_told_by_name(tmp_path: Path) -> None:
    trailer = samples_folder() / "library-trailer.toml"
    text = trailer.read_text(encoding="utf-8").replace('name = "Library trailer"', 'name = "Bücherei"', 1)
    (tmp_path / "ramp.toml").write_text(text, encoding="utf-8")
    done = shell(f"{RAMPDRAFT} export ramp.toml --to pack", tmp_path, **ASCII)
    assert done.returncode == BAD_INPUT
    assert "cherei.dxf" in done.stderr or "cherei.toml" in done.stderr
    assert "file names are ascii" in done.stderr


@POSIX
@pytest.mark.parametrize(
    "command", ["check /nowhere/ramp.toml", "check ramp.toml/x.toml", "export $STAGE --to /proc/pack"]
)
def test_what_cannot_be_reached_is_named(tmp_path: Path, command: str) -> None:
    done = shell(f"{RAMPDRAFT} {command}", tmp_path)
    assert done.returncode == BAD_INPUT
    assert command.rpartition(" ")[2].rpartition("/")[0] in done.stderr
    assert "Traceback" not in done.stderr


def test_the_guard_loads_nothing_that_may_be_broken() -> None:
    code = (
        "import sys, rampdraft.__main__; print(*sorted(n for n in sys.modules if n.startswith('rampdraft')))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    ours = (
        "rampdraft rampdraft.__main__ rampdraft.cli rampdraft.cli.guard rampdraft.files rampdraft.files.log"
    )
    assert done.stdout.split() == ours.split()
    assert guard.__doc__
