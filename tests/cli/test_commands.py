"""The commands as somebody types them: what they print, what they leave, how they end."""

import dataclasses
import json
import math
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from ramps import standing_in

from rampdraft import __version__
from rampdraft.checks.demands.strength import member_rows
from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, Result, Status
from rampdraft.cli import main as commands
from rampdraft.cli.guard import guarded
from rampdraft.cli.sheet import check_sheet
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import way_words
from rampdraft.export.json_report import report
from rampdraft.files.design_file import load_design, save_design
from rampdraft.files.samples import sample_paths, samples_folder
from rampdraft.mechanics.handling.words import hands_words
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design

ROOT = Path(__file__).parent.parent.parent
TRAILER = samples_folder() / "library-trailer.toml"
STAGE = samples_folder() / "barn-stage.toml"
BAD = samples_folder() / "too-steep.toml"
GOOD = [path for path in sample_paths() if path != BAD]

Run = Callable[..., tuple[int, str, str]]


def no_window(file: Path | None) -> int:
    raise AssertionError("no window was to be opened")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*arguments: object, window: Callable[[Path | None], int] = no_window) -> tuple[int, str, str]:
        try:
            code = commands.run([str(argument) for argument in arguments], window)
        except SystemExit as left:
            code = int(left.code or 0)
        out, err = capsys.readouterr()
        return code, out, err

    return run


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    return evaluate(load_design(TRAILER), TRAILER.parent)


def program(*arguments: object, cwd: Path, **more: str) -> subprocess.CompletedProcess[str]:
    """Run the program as a process of its own, on a machine without a screen."""
    hidden = ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY")
    environment = (
        {key: value for key, value in os.environ.items() if key not in hidden}
        | {"PYTHONPATH": str(ROOT)}
        | more
    )
    command = [sys.executable, "-m", "rampdraft", *map(str, arguments)]
    return subprocess.run(
        command, cwd=cwd, env=environment, capture_output=True, text=True, timeout=120, check=False
    )


@pytest.mark.parametrize("sample", GOOD, ids=[path.stem for path in GOOD])
def test_a_good_sample_is_within_its_limits(run: Run, sample: Path) -> None:
    code, out, err = run("check", sample)
    assert (code, err) == (commands.WITHIN, "")
    assert f"Checks: {Result.FAILS}: 0; " in out


def test_the_bad_sample_fails(run: Run) -> None:
    code, out, err = run("check", BAD)
    assert (code, err) == (commands.FAILS, "")
    assert f"Checks: {Result.FAILS}: 0; " not in out


def test_the_sheet_says_all_of_it(run: Run, trailer: Evaluation) -> None:
    _, out, _ = run("check", TRAILER)
    flowing = " ".join(out.split())
    assert trailer.design.about.name in out
    assert all(site.site in out for site in trailer.sites)
    assert f"no pose has less than {trailer.fold.clearance.tightest.certified_mm:.2f} mm" in flowing
    assert " ".join(trailer.fold.joint.words.split()) in flowing
    worst = max(trailer.hands, key=lambda stage: stage.share)
    assert f"hands: {hands_words(worst)} (inner leaf at " in flowing
    assert " ".join(UNJUDGED[0].split()) in flowing
    assert all(" ".join(note.split()) in flowing for note in trailer.notes)
    assert f"room: {trailer.fold.envelope.in_front_mm:.0f} mm in front of the deck edge" in flowing
    assert f"{trailer.assembly.inner.mass_kg:.1f} kg" in out
    assert all(
        check.title in flowing and check.value_text in flowing and check.limit_text in flowing
        for check in trailer.all_checks
    )
    assert all(
        f"[{f'{check.source.title} {check.source.clause}'.strip()}]" in flowing
        for check in trailer.all_checks
    )
    assert max(len(line) for line in out.splitlines()) <= 120
    assert all(caution in flowing for caution in CAUTIONS)


def test_the_sheet_says_what_uses_most_of_its_strength_and_what_the_joint_uses(
    run: Run, trailer: Evaluation
) -> None:
    def said(path: Path) -> list[str]:
        _, out, _ = run("check", path)
        return out[out.index("\nStrength\n") : out.index("\nChecks: ")].splitlines()

    rows = member_rows((*trailer.verdicts, *trailer.fixed), trailer.checks)
    lines = said(TRAILER)
    for kind, row in (
        ("the worst", rows[0]),
        ("pins", next(row for row in rows if row.key.endswith("-pins"))),
    ):
        line = next(line for line in lines if line.startswith(f"  {kind}"))
        assert row.share is not None
        assert (
            " ".join(line.split())
            == f"{kind} {row.name} {100 * row.share:.0f} % {row.factor:.1f} {row.result}"
        )
    assert any("Nothing holds the joint" in line for line in said(BAD))


def test_a_ramp_that_falls_to_the_deck_is_told_in_words(run: Run) -> None:
    ferry = samples_folder() / "reed-ferry.toml"
    _, out, _ = run("check", ferry)
    bank = next(line for line in out.splitlines() if "High bank" in line)
    angle = next(
        pose.pose.inner_rad
        for pose in evaluate(load_design(ferry), ferry.parent).sites
        if pose.site == "High bank"
    )
    assert angle > 0, "the inner leaf rises from the deck"
    slope = math.tan(angle)
    assert f"1:{1 / slope:.1f} down to the deck {100 * slope:.1f} % {math.degrees(angle):.1f}°" in bank
    assert "-" not in bank


@pytest.mark.parametrize("sample", GOOD, ids=[path.stem for path in GOOD])
def test_a_way_to_fold_is_told_for_each_site(run: Run, sample: Path) -> None:
    code, out, err = run("fold", sample)
    assert (code, err) == (commands.WITHIN, "")
    design = load_design(sample)
    for number, site in enumerate(design.sites, start=1):
        assert f"{number}  {site.name}" in out
    assert out.count("  1. ") == out.count("no pose has less than") == len(design.sites)
    assert all(caution in " ".join(out.split()) for caution in CAUTIONS)


def test_a_blocked_fold_says_what_blocks_it_and_what_would_free_it(run: Run) -> None:
    code, out, err = run("fold", BAD)
    assert (code, err) == (commands.FAILS, "")
    assert "inner joint knuckle 1 and outer slat 1" in " ".join(out.split())
    assert "stand in the way" in " ".join(out.split())
    assert "What alone would free it" in out


def test_checks_are_printed_worst_first(trailer: Evaluation) -> None:
    lines = check_sheet(evaluate(load_design(BAD), BAD.parent)).splitlines()
    table = lines[next(n for n, line in enumerate(lines) if line.startswith("Checks: ")) + 1 :]
    words = [str(status) for line in table for status in Result if line.startswith(f"  {status}")]
    assert words.index(Result.FAILS) == 0
    assert Result.FAILS not in words[words.index(Result.PASSES) :]


def test_json_is_the_report(run: Run, trailer: Evaluation) -> None:
    code, out, err = run("check", TRAILER, "--json")
    assert (code, err) == (commands.WITHIN, "")
    assert json.loads(out) == json.loads(json.dumps(report(trailer)))


@pytest.mark.parametrize(
    ("status", "warning_only", "code"),
    [
        (Status.EXCEEDS, False, commands.FAILS),
        (Status.EXCEEDS, True, commands.WITHIN),
        (Status.UNJUDGED, False, commands.LEFT_OPEN),
        (Status.CLOSE, False, commands.WITHIN),
        (Status.WITHIN, False, commands.WITHIN),
    ],
)
def test_what_fails_and_what_does_not(
    run: Run,
    monkeypatch: pytest.MonkeyPatch,
    trailer: Evaluation,
    status: Status,
    warning_only: bool,
    code: int,
) -> None:
    worst = trailer.checks[0]
    checks: tuple[Check, ...] = (
        dataclasses.replace(
            worst, status=status, demand=dataclasses.replace(worst.demand, warning="Advice." * warning_only)
        ),
    )
    monkeypatch.setattr(commands, "evaluate", lambda design, folder: standing_in(trailer, all_checks=checks))
    assert run("check", TRAILER)[0] == code
    assert run("check", TRAILER, "--json")[0] == code


BROKEN = {
    "not there": None,
    "empty": b"",
    "no TOML": b"[carrier\ndeck_height_mm = 400",
    "no text": bytes(range(256)),
    "another file": b'[project]\nname = "x"\n',
}


@pytest.mark.parametrize("what", BROKEN)
@pytest.mark.parametrize("command", [("check",), ("check", "--json"), ("export", "--to", "pack")])
def test_a_broken_file_is_told_in_words(
    run: Run, tmp_path: Path, what: str, command: tuple[str, ...]
) -> None:
    file = tmp_path / "ramp.toml"
    content = BROKEN[what]
    if content is not None:
        file.write_bytes(content)
    code, out, err = run(command[0], file, *command[1:])
    assert (code, out) == (commands.BAD_INPUT, "")
    assert err.startswith("rampdraft: ")
    assert "ramp.toml" in err
    assert not (Path.cwd() / "pack").exists()


def test_a_folder_is_no_design(run: Run, tmp_path: Path) -> None:
    code, _, err = run("check", tmp_path)
    assert code == commands.BAD_INPUT
    assert tmp_path.name in err


def test_a_wrong_value_is_told_with_key_and_line(run: Run, tmp_path: Path) -> None:
    lines = TRAILER.read_text(encoding="utf-8").splitlines()
    number = next(n for n, line in enumerate(lines) if line.startswith("deck_height_mm"))
    lines[number] = 'deck_height_mm = "high"'
    file = tmp_path / "ramp.toml"
    file.write_text("\n".join(lines), encoding="utf-8")
    code, _, err = run("check", file)
    assert code == commands.BAD_INPUT
    assert f"line {number + 1}: " in err
    assert "deck_height_mm" in err


@pytest.mark.usefixtures("light_pack")
def test_export_writes_the_pack(run: Run, tmp_path: Path) -> None:
    """Papers and drawings are written by the demo below."""
    code, out, err = run("export", TRAILER, "--to", tmp_path / "pack")
    assert (code, err) == (commands.WITHIN, "")
    written = [path for path in (tmp_path / "pack").rglob("*") if path.is_file()]
    assert {path.suffix for path in written} >= {".dxf", ".pdf", ".csv"}
    assert all(str(path) in out for path in written)


def test_export_into_a_file_is_told_in_words(run: Run, tmp_path: Path) -> None:
    (tmp_path / "pack").write_text("mine", encoding="utf-8")
    code, _, err = run("export", TRAILER, "--to", tmp_path / "pack")
    assert code == commands.BAD_INPUT
    assert err.startswith("rampdraft: ")
    assert (tmp_path / "pack").read_text(encoding="utf-8") == "mine"


def test_the_demo_does_the_whole_job_without_a_screen(tmp_path: Path) -> None:
    done = program("demo", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (commands.WITHIN, "")
    assert "passes" in done.stdout
    assert "No window: there is no screen here" in done.stdout
    assert any((tmp_path / "rampdraft-demo").rglob("*.pdf"))


def test_the_demo_opens_the_window_on_its_sample(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for problem in ("screen_problem", "shows_nothing"):
        monkeypatch.setattr(commands, problem, lambda: "")
    opened: list[Path | None] = []
    monkeypatch.setattr("rampdraft.export.pack.write_pack", lambda *_: ())  # whole in the test above
    code, out, _ = run("demo", "--to", tmp_path, window=lambda file: opened.append(file) or 0)
    assert (code, opened) == (0, [TRAILER])
    assert "The window opens now" in out
    assert run("demo", "--to", tmp_path, "--no-window")[0] == 0


def test_the_window_without_a_screen(tmp_path: Path) -> None:
    for arguments in ((), (TRAILER,)):
        done = program(*arguments, cwd=tmp_path)
        assert (done.returncode, done.stdout) == (commands.BAD_INPUT, "")
        assert "no screen" in done.stderr
        assert "rampdraft check FILE" in done.stderr


def test_a_file_alone_opens_the_window_on_it(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(commands, "screen_problem", lambda: "")
    opened: list[Path | None] = []
    for arguments, code in (((TRAILER,), 0), ((), 5)):
        assert run(*arguments, window=lambda file, code=code: opened.append(file) or code)[0] == code
    assert opened == [TRAILER, None]


@pytest.mark.parametrize(
    "arguments",
    [
        ("check",),
        ("check", "a", "b"),
        ("export", "a"),
        ("demo", "a"),
        ("--what",),
        ("a", "b"),
        ("check", "a", "--yaml"),
    ],
)
def test_wrong_usage(run: Run, arguments: tuple[str, ...]) -> None:
    code, out, err = run(*arguments)
    assert (code, out) == (commands.BAD_INPUT, "")
    assert "usage: rampdraft" in err


def test_a_command_misspelt_is_no_file(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    code, _, err = run("chekc", "ramp.toml")
    assert (code, err) == (
        commands.BAD_INPUT,
        "rampdraft: 'chekc' is no command and no file (did you mean 'check'?)\n",
    )
    monkeypatch.setattr(commands, "screen_problem", lambda: "")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "chekc").touch()
    opened: list[Path | None] = []
    for name in ("chekc", "demo.toml", "ramp"):
        assert run(name, window=lambda file: opened.append(file) or 0)[0] == 0
    assert opened == [Path("chekc"), Path("demo.toml"), Path("ramp")]


def test_version_and_help(run: Run) -> None:
    assert run("--version") == (0, f"rampdraft {__version__}\n", "")
    code, out, _ = run("--help")
    assert code == 0
    assert all(word in out for word in ("[FILE]", "check", "export", "demo", "exit codes"))


def test_a_reader_that_goes_away_ends_it_without_a_word(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "rampdraft", "check", str(STAGE)]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, cwd=tmp_path, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(timeout=60) == 141


def test_ctrl_c_ends_it_without_a_word() -> None:
    def interrupted() -> int:
        raise KeyboardInterrupt

    assert guarded(interrupted) == 130
    assert guarded(lambda: 1) == 1


def test_what_only_the_finished_ramp_shows_leaves_nothing_open(run: Run, trailer: Evaluation) -> None:
    """The trailer's edge stripe is paint: not judged, and nobody's fault."""
    assert any(check.status is Status.UNJUDGED for check in trailer.checks)
    assert run("check", TRAILER)[0] == commands.WITHIN


def test_strength_that_cannot_be_judged_is_no_pass(run: Run, tmp_path: Path) -> None:
    """Plywood has no strengths in the catalogue."""
    design = with_value(load_design(TRAILER), "made_of.upstands", "birch plywood")
    save_design(design, file := tmp_path / "plywood.toml")
    evaluation = evaluate(design)
    assert not any(check.fails for check in evaluation.checks)
    assert run("check", file)[0] == commands.LEFT_OPEN == 3


def test_a_terminal_that_lacks_a_letter_shows_another(tmp_path: Path) -> None:
    done = program("check", STAGE, cwd=tmp_path, PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (commands.WITHIN, "")


def test_a_name_sends_no_command_to_the_terminal(
    run: Run, monkeypatch: pytest.MonkeyPatch, trailer: Evaluation
) -> None:
    about = dataclasses.replace(trailer.design.about, name="red\x1b[31m\rramp")
    evil = Evaluation(dataclasses.replace(trailer.design, about=about), trailer.rule_sets)
    monkeypatch.setattr(commands, "evaluate", lambda design, folder: evil)
    out = run("check", TRAILER)[1]
    assert "red\N{REPLACEMENT CHARACTER}[31m\N{REPLACEMENT CHARACTER}ramp" in out
    assert "\x1b" not in run("check", TRAILER, "--json")[1]


def test_ways_out_stand_under_each_check_that_fails(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    found_once: list[Mapping[str, tuple[WayOut, ...]]] = []

    def quick(evaluation: Evaluation) -> Mapping[str, tuple[WayOut, ...]]:
        """Of some alone, and not what they do to rolling: all takes a minute."""
        failing = [check.id for check in evaluation.all_checks if check.fails]
        found = ways_out(evaluation, frozenset(failing[::9]), rolling=False)
        found_once.append({id: found.get(id, ()) for id in failing})
        return found_once[-1]

    monkeypatch.setattr(commands, "ways_out", quick)
    code, out, _ = run("check", BAD, "--ways")
    words = " ".join(out.split())
    (ways,) = found_once
    fresh = evaluate(load_design(BAD), BAD.parent)
    assert set(ways) == {check.id for check in fresh.all_checks if check.fails}
    assert code == 1
    assert ways
    for found in ways.values():
        for way in found:
            assert f"Way out: {way_words(way)}." in words
    assert words.count("Way out: ") == sum(map(len, ways.values()))
    assert words.count("Ways out: none found") == sum(not found for found in ways.values())
    _, plain, _ = run("check", BAD)
    assert "Way out" not in plain


def test_a_platform_that_is_not_there_is_no_abort(tmp_path: Path) -> None:
    done = program(TRAILER, cwd=tmp_path, QT_QPA_PLATFORM="nosuch")
    assert (done.returncode, done.stdout) == (commands.BAD_INPUT, "")
    assert "QT_QPA_PLATFORM=nosuch names no way to a screen" in done.stderr


def test_the_demo_does_not_wait_for_a_window_that_nobody_sees(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    monkeypatch.setattr("rampdraft.export.pack.write_pack", lambda *_: ())  # whole in the test above
    code, out, err = run("demo", "--to", tmp_path)
    assert (code, err) == (commands.WITHIN, "")
    assert "No window: QT_QPA_PLATFORM=offscreen shows nothing" in out


def test_where_wishes_exclude_each_other_the_failing_slope_says_so_once(run: Run) -> None:
    _, out, _ = run("check", BAD)
    flat = " ".join(out.split())
    assert flat.count("Why not: Slope 1:6 (Slope to road or kerb, US vehicles, 2016 guidelines)") == 1
    _, out, _ = run("check", TRAILER)
    assert "Why not" not in out


def test_mend_tells_the_edits_after_which_nothing_fails(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "thin.toml"
    save_design(with_value(starter_design(), "inner_leaf.slat_thickness_mm", 2.0), file)
    before = file.read_bytes()
    code, out, _ = run("check", file, "--mend")
    assert code == commands.FAILS
    assert "Correct all: 1 edit, after which nothing fails" in out
    assert "1. Inner leaf slat thickness 2 →" in out
    assert file.read_bytes() == before
    save_design(starter_design(), file)
    _, out, _ = run("check", file, "--mend")
    assert "Correct all: nothing fails" in out


def test_rule_files_are_taken_from_a_folder_that_is_named(run: Run, tmp_path: Path) -> None:
    elsewhere, file = tmp_path / "rules of ours", tmp_path / "design" / "ramp.toml"
    elsewhere.mkdir()
    file.parent.mkdir()
    rules = elsewhere / "barn.toml"
    rules.write_bytes((samples_folder() / "rules" / "barn-assisted.toml").read_bytes())
    save_design(with_value(starter_design(), "use.rule_sets", (str(rules),)), file)
    code, _, err = run("check", file)
    assert (code, "--rules-from" in err) == (2, True)
    code, _, err = run("check", file, "--rules-from", elsewhere / "nowhere")
    assert (code, "must be a folder" in err) == (2, True)
    code, out, err = run("check", file, "--rules-from", elsewhere)
    assert (code in (0, 1, 3), err) == (True, "")
    assert "Barn stage, assisted" in out
    assert run("check", file)[0] == code, "as in the window, it stays a place of rule files"
