"""The commands. Text goes to standard output, what is wrong to standard error; exit codes are those of the
help.
"""

import argparse
import json
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import Final

from rampdraft import __version__
from rampdraft.checks.quantities.table import left_open
from rampdraft.checks.result import tally_words
from rampdraft.cli.mend_sheet import mend_sheet
from rampdraft.cli.roll_sheet import roll_sheet, rolls_through
from rampdraft.cli.screen import screen_problem
from rampdraft.cli.sheet import check_sheet
from rampdraft.errors import RampdraftError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.mending import mend
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.export.json_report import report
from rampdraft.export.json_rolling import rolling_report
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.fields.values import nearest

WITHIN: Final = 0
FAILS: Final = 1
BAD_INPUT: Final = 2
LEFT_OPEN: Final = 3
FAULT: Final = 70
"""As sysexits.h of BSD has it for a fault of the program itself."""

Window = Callable[[Path | None], int]
"""Opens the window, on a file or on none, and returns the exit code when it is closed."""

_DEMO: Final = "library-trailer.toml"
_USAGE: Final = "rampdraft [FILE]\n       rampdraft {check,fold,roll,export,demo} ..."
_END: Final = """Without a command the window opens, on FILE if one is given.
exit codes: 0 nothing fails, and all that the design tells is judged; 1 a check fails (check), no
way to fold is free (fold) or somebody does not come through (roll); 2 bad input or no screen;
3 nothing fails, but strength, fold, slope or the rules of the place are not judged (check);
70 a fault of the program."""


def run(arguments: Sequence[str], window: Window) -> int:
    """Carry out the command line and return its exit code. Raises SystemExit for --help, --version and wrong
    usage.
    """
    commands = {"check": _check, "fold": _fold, "roll": _roll, "export": _export, "demo": _demo}
    first = arguments[0] if arguments else ""
    try:
        if first in commands or first.startswith("-"):
            options = _parser().parse_args(arguments)
            return commands[options.command](options, window)
        meant = nearest(first, commands)
        if meant and not Path(first).suffix and not Path(first).exists():
            _complain(f"'{first}' is no command and no file (did you mean '{meant}'?)")
            return BAD_INPUT
        return _window(_file_parser().parse_args(arguments), window)
    except BrokenPipeError:
        raise
    except (RampdraftError, OSError) as error:
        _complain(str(error))
        return BAD_INPUT


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="rampdraft",
        usage=_USAGE,
        description="Drafts two-section folding ramps: fold, gradients, checks, cut list, profiles.",
        epilog=_END,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"rampdraft {__version__}")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="", required=True)
    check = commands.add_parser("check", help="print the check sheet of a design", description=_check.__doc__)
    check.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    check.add_argument("--json", action="store_true", help="print it as JSON for other programs")
    check.add_argument(
        "--ways", action="store_true", help="tell for each check that fails what change cures it"
    )
    check.add_argument(
        "--mend",
        action="store_true",
        help="tell besides which edits, one after the other, cure all that fails",
    )
    fold = commands.add_parser("fold", help="find the way to fold at each site", description=_fold.__doc__)
    fold.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    roll = commands.add_parser("roll", help="roll the users over it at each site", description=_roll.__doc__)
    roll.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    roll.add_argument("--json", action="store_true", help="print it as JSON, every 10 mm of the way")
    export = commands.add_parser(
        "export", help="write the workshop pack of a design", description=_export.__doc__
    )
    export.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    export.add_argument("--to", metavar="DIR", type=Path, required=True, help="the folder to write to")
    demo = commands.add_parser("demo", help="do the whole job on a sample", description=_demo.__doc__)
    demo.add_argument(
        "--to", metavar="DIR", type=Path, default=Path("rampdraft-demo"), help="the folder to write to"
    )
    demo.add_argument("--no-window", action="store_true", help="do not open the window at the end")
    return parser


def _file_parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="rampdraft", usage=_USAGE)
    parser.add_argument("file", metavar="FILE", type=Path, nargs="?")
    return parser


def _check(options: argparse.Namespace, _: Window) -> int:
    """Print gradients, fold, masses, strength and checks, worst first."""
    evaluation = _evaluated(options.file)
    if options.json:
        print(json.dumps(report(evaluation), indent=2, allow_nan=False))
    else:
        _say(check_sheet(evaluation, ways_out(evaluation) if options.ways else None))
        if options.mend:
            _say(mend_sheet(evaluation, mend(evaluation)))
    if any(check.fails for check in evaluation.all_checks):
        return FAILS
    return LEFT_OPEN if left_open(evaluation.all_checks) else WITHIN


def _fold(options: argparse.Namespace, _: Window) -> int:
    """Find the way to fold with the least effort from where the ramp stands at each site, or what blocks it
    there and which single dimension would free it.
    """
    # Searching needs scipy, which takes its time to load: only this command waits for it.
    from rampdraft.cli.fold_sheet import fold_sheet
    from rampdraft.explore.folds import folds_at_sites, freeing_dimensions
    from rampdraft.mechanics.folding.search import FoundPath

    evaluation = _evaluated(options.file)
    folds = folds_at_sites(evaluation)
    free = all(isinstance(fold.found, FoundPath) for fold in folds)
    _say(fold_sheet(evaluation, folds, () if free else freeing_dimensions(evaluation)))
    return WITHIN if free else FAILS


def _roll(options: argparse.Namespace, _: Window) -> int:
    """Roll every user over the ramp at each site, up and down, forwards and backwards: clearance, tipping,
    force and bumps where each is worst.
    """
    evaluation = _evaluated(options.file)
    if options.json:
        print(json.dumps(rolling_report(evaluation), separators=(",", ":"), allow_nan=False))
    else:
        _say(roll_sheet(evaluation))
    return WITHIN if rolls_through(evaluation) else FAILS


def _export(options: argparse.Namespace, _: Window) -> int:
    """Write profiles, part list, cutting plan, drawings and check sheet of a design into a folder."""
    _write(_evaluated(options.file), options.to)
    return WITHIN


def _demo(options: argparse.Namespace, window: Window) -> int:
    """Check a sample, write its workshop pack, and open it in the window where there is a screen."""
    sample = samples_folder() / _DEMO
    _say(
        f"Demo: the sample {sample}\nis checked, its workshop pack written to {options.to}, and shown where"
        " there is a screen.\n"
    )
    evaluation = _evaluated(sample)
    _say(check_sheet(evaluation))
    _write(evaluation, options.to)
    problem = "--no-window was asked" if options.no_window else screen_problem()
    if problem:
        _say(f"No window: {problem}.")
        return WITHIN
    _say("The window opens now; close it to end the demo.")
    return window(sample)


def _window(options: argparse.Namespace, window: Window) -> int:
    problem = screen_problem()
    if problem:
        _complain(
            f"cannot open the window: {problem}\nWithout a window: rampdraft check FILE, rampdraft export"
            " FILE --to DIR, rampdraft demo, rampdraft --help"
        )
        return BAD_INPUT
    return window(options.file)


def _evaluated(file: Path) -> Evaluation:
    return evaluate(load_design(file), file.parent)


def _write(evaluation: Evaluation, folder: Path) -> None:
    # Imported only here: the formats take longer to load than the window has time to open.
    from rampdraft.export.pack import write_pack

    written = write_pack(evaluation, folder)
    _say(f"{len(written)} files written to {folder}:")
    for path in written:
        _say(f"  {path}")
    _say(f"Checks: {tally_words(evaluation.all_checks)}.")


def _say(text: str) -> None:
    """Print text; a control character that a name may carry is not passed on to the terminal."""
    print(
        "".join(
            letter if letter.isprintable() or letter == "\n" else "\N{REPLACEMENT CHARACTER}"
            for letter in text
        )
    )


def _complain(text: str) -> None:
    print(f"rampdraft: {text}", file=sys.stderr)


def quietly(main: Callable[[], int]) -> int:
    """Return the exit code of `main`; Ctrl-C and a reader that goes away (`| head`) end it without a word, a
    fault of the program with what to report.
    """
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows a question mark instead of stopping the program.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        code = main()
        sys.stdout.flush()
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # The interpreter flushes once more on its way out: give it something that takes it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141
    except Exception as fault:
        place = traceback.extract_tb(fault.__traceback__)[-1]
        _complain(
            f"a fault of the program: {type(fault).__name__}: {fault} ({Path(place.filename).name}, line"
            f" {place.lineno}). Please report it, with the design."
        )
        return FAULT
    return code
