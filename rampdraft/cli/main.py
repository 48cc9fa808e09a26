"""The commands. Text goes to standard output, what is wrong to standard error; exit codes are those of the
help.
"""

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final, get_args

from rampdraft import __version__
from rampdraft.checks.quantities.table import left_open
from rampdraft.checks.result import tally_words
from rampdraft.cli.cut_sheet import cut_sheet, plan_of_list
from rampdraft.cli.guard import BAD_INPUT, complain, tell
from rampdraft.cli.mend_sheet import mend_sheet
from rampdraft.cli.roll_sheet import roll_sheet, rolls_through
from rampdraft.cli.screen import screen_problem, shows_nothing
from rampdraft.cli.sheet import check_sheet
from rampdraft.errors import FileError, RampdraftError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.mending import mend
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.export.json_report import report
from rampdraft.export.json_rolling import rolling_report
from rampdraft.export.json_shop import plan_report
from rampdraft.files.cut_list import load_cut_list
from rampdraft.files.design_file import load_design, load_survey, save_design
from rampdraft.files.rule_files import add_folder
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Towards
from rampdraft.model.fields.values import nearest
from rampdraft.shop.cutting.results import Saw
from rampdraft.words.manner import LANGUAGES, manner_of, speak
from rampdraft.words.say import say

if TYPE_CHECKING:
    from _typeshed import SupportsWrite

WITHIN: Final = 0
FAILS: Final = 1
LEFT_OPEN: Final = 3

NO_BETTER: Final = (
    "No better design was found that passes every check and keeps what is locked;"
    " check --mend tells what mends one that fails.\n"
)

Window = Callable[[Path | None], int]
"""Opens the window, on a file or on none, and returns the exit code when it is closed."""

MOST_PROCESSES: Final = 8
"""More find nothing left to do."""
_DEMO: Final = "library-trailer.toml"
_USAGE: Final = (
    "rampdraft [FILE]\n       rampdraft {check,fold,roll,propose,improve,export,cut,demo,desktop} ..."
)
_END: Final = """Without a command the window opens, on FILE if one is given.
exit codes: 0 nothing fails, and all that the design tells is judged; 1 a check fails (check), no
way to fold is free (fold), somebody does not come through (roll), no ramp was found (propose)
or none that is better (improve);
2 bad input or no screen;
3 nothing fails, but strength, fold, slope or the rules of the place are not judged (check);
70 a fault of the program."""


def run(arguments: Sequence[str], window: Window) -> int:
    """Carry out the command line and return its exit code. Raises SystemExit for --help, --version and wrong
    usage.
    """
    commands = {
        "check": _check,
        "fold": _fold,
        "roll": _roll,
        "propose": _propose,
        "improve": _improve,
        "export": _export,
        "cut": _cut,
        "demo": _demo,
        "desktop": _desktop,
    }
    first = arguments[0] if arguments else ""
    try:
        if first in commands or first.startswith("-"):
            options = _parser().parse_args(arguments)
            for folder in getattr(options, "rules_from", ()):
                _add_rules_from(folder)
            speak(manner_of(options.language))
            return commands[options.command](options, window)
        meant = nearest(first, commands)
        if meant and not Path(first).suffix and not Path(first).exists():
            complain(
                say("'{first}' is no command and no file (did you mean '{meant}'?)", first=first, meant=meant)
            )
            return BAD_INPUT
        return _window(_file_parser().parse_args(arguments), window)
    except BrokenPipeError:
        raise
    except (RampdraftError, OSError) as error:
        complain(str(error))
        return BAD_INPUT


class _Parser(argparse.ArgumentParser):
    """Tells its help as everything else is told: argparse keeps silent where nothing can be written."""

    def _print_message(self, message: str, file: "SupportsWrite[str] | None" = None) -> None:
        if file is sys.stdout:
            tell(message.removesuffix("\n"))
        else:
            super()._print_message(message, file)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="rampdraft",
        usage=_USAGE,
        description="Drafts two-section folding ramps: fold, gradients, checks, cut list, profiles.",
        epilog=_END,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"rampdraft {__version__}")
    commands = parser.add_subparsers(dest="command", title="commands", metavar="", required=True)
    check = commands.add_parser("check", help="print the check sheet of a design", description=_check.__doc__)
    _add_check(check)
    fold = commands.add_parser("fold", help="find the way to fold at each site", description=_fold.__doc__)
    fold.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    roll = commands.add_parser("roll", help="roll the users over it at each site", description=_roll.__doc__)
    roll.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    roll.add_argument("--json", action="store_true", help="print it as JSON, every 10 mm of the way")
    proposed = commands.add_parser("propose", help="propose ramps for a survey", description=_propose.__doc__)
    proposed.add_argument("file", metavar="FILE", type=Path, help="a design (.toml); only its survey counts")
    proposed.add_argument("--to", metavar="DIR", type=Path, required=True, help="the folder to write to")
    proposed.add_argument(
        "--seed", metavar="N", type=int, default=0, help="another search, with another number"
    )
    proposed.add_argument("--json", action="store_true", help="print the table as JSON for other programs")
    _add_improve(commands.add_parser("improve", help="make a design better", description=_improve.__doc__))
    export = commands.add_parser(
        "export", help="write the workshop pack of a design", description=_export.__doc__
    )
    export.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    export.add_argument("--to", metavar="DIR", type=Path, required=True, help="the folder to write to")
    for reads_design in (check, fold, roll, proposed, commands.choices["improve"], export):
        _add_rules_option(reads_design)
    _add_cut(commands.add_parser("cut", help="plan the saw cuts of any list", description=_cut.__doc__))
    demo = commands.add_parser("demo", help="do the whole job on a sample", description=_demo.__doc__)
    demo.add_argument(
        "--to", metavar="DIR", type=Path, default=Path("rampdraft-demo"), help="the folder to write to"
    )
    demo.add_argument("--no-window", action="store_true", help="do not open the window at the end")
    desktop = commands.add_parser(
        "desktop", help="put the program into a Linux desktop's menu", description=_desktop.__doc__
    )
    desktop.add_argument("--remove", action="store_true", help="take it out again")
    for command in commands.choices.values():
        command.add_argument(
            "--language", choices=LANGUAGES, default="en", help="English (en) or German (de)"
        )
    return parser


def _add_check(check: argparse.ArgumentParser) -> None:
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


def _add_rules_option(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--rules-from",
        metavar="DIR",
        type=Path,
        action="append",
        default=[],
        help="take rule files from this folder too, from now on, as the window does under Use",
    )


def _add_improve(improve: argparse.ArgumentParser) -> None:
    improve.add_argument("file", metavar="FILE", type=Path, help="a design (.toml)")
    improve.add_argument(
        "--towards",
        choices=get_args(Towards),
        default="light",
        help="lighter, gentler, of cheaper stock, or quicker to make: of fewer pieces",
    )
    improve.add_argument("--to", metavar="FILE", type=Path, required=True, help="the file to write")
    improve.add_argument(
        "--lock",
        metavar="PATH",
        action="append",
        default=[],
        help="a value that stays, as inner_leaf.length_mm, or a group of values, as joint; may be repeated",
    )


def _add_cut(cut: argparse.ArgumentParser) -> None:
    cut.add_argument(
        "file", metavar="LIST", type=Path, help="a list (.csv) with the columns section, length_mm, quantity"
    )
    cut.add_argument(
        "--stock",
        metavar="LENGTHS",
        required=True,
        help="what can be bought, in mm, as 6000,7500, or with prices as 6000=21.50,7500=26",
    )
    cut.add_argument(
        "--in-hand",
        metavar="LENGTHS",
        default="",
        help="what lies in the shop, used first, as 1250,2400x3",
    )
    cut.add_argument("--kerf", metavar="MM", type=float, default=0.0, help="width of the saw cut")
    cut.add_argument("--trim", metavar="MM", type=float, default=0.0, help="cut off a stock length first")
    cut.add_argument(
        "--least-offcut",
        metavar="MM",
        type=float,
        default=300.0,
        help="what is left and no shorter is of use",
    )
    cut.add_argument("--json", action="store_true", help="print it as JSON for other programs")


def _file_parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="rampdraft", usage=_USAGE)
    parser.add_argument("file", metavar="FILE", type=Path, nargs="?")
    return parser


def _check(options: argparse.Namespace, _: Window) -> int:
    """Print gradients, fold, masses, strength and checks, worst first."""
    evaluation = _evaluated(options.file)
    if options.json:
        tell(json.dumps(report(evaluation), indent=2, allow_nan=False))
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
        tell(json.dumps(rolling_report(evaluation), separators=(",", ":"), allow_nan=False))
    else:
        _say(roll_sheet(evaluation))
    return WITHIN if rolls_through(evaluation) else FAILS


def _propose(options: argparse.Namespace, _: Window) -> int:
    """Propose ramps that pass every check for the survey in a file: where it is used, by whom, of what it can
    be made. Its own ramp, if it has one, does not count. Each proposal is written as a design.
    """
    from rampdraft.cli.propose_sheet import propose_sheet
    from rampdraft.explore.pool import pool
    from rampdraft.explore.proposals.propose import propose
    from rampdraft.explore.proposals.words import reason_of
    from rampdraft.export.proposals import proposals_report, write_proposals

    survey = load_survey(options.file)
    with pool(min(MOST_PROCESSES, os.cpu_count() or 1)) as workers:
        found = propose(survey, options.file.parent, seed=options.seed, workers=workers, progress=_shown)
    reason = reason_of(found, survey, options.file.parent)
    written = write_proposals(found, options.to, options.file.parent)
    if options.json:
        print(json.dumps(proposals_report(found, reason), indent=2, allow_nan=False))
    else:
        _say(reason or propose_sheet(survey, found))
        if written:
            _say(say("{count} files written to {to}", count=len(written), to=options.to))
    return FAILS if reason else WITHIN


def _improve(options: argparse.Namespace, _: Window) -> int:
    """Make a design lighter, gentler, cheaper or quicker to make, so that it passes every check; what is
    locked stays, and spacings that are given where they could follow. The better design is written to a file.
    """
    from rampdraft.cli.propose_sheet import improve_sheet
    from rampdraft.explore.proposals.improve import improved

    folder = options.file.parent
    found = improved(load_design(options.file), options.towards, options.lock, folder, progress=_shown)
    if found is None:
        _say(NO_BETTER)
        return FAILS
    save_design(found.after.design, options.to)
    _say(improve_sheet(found))
    _say(say("Written to {to}", to=options.to))
    return WITHIN


def _shown(share: float, words: str) -> None:
    """Show how far it is where somebody looks on."""
    if sys.stderr.isatty():
        print(f"\r{share:4.0%} {words:<30}", end="" if share < 1 else "\n", file=sys.stderr, flush=True)


def _export(options: argparse.Namespace, _: Window) -> int:
    """Write profiles, part list, cutting plan, drawings and check sheet of a design into a folder."""
    _write(_evaluated(options.file), options.to)
    return WITHIN


def _cut(options: argparse.Namespace, _: Window) -> int:
    """Plan how a list of pieces is sawn from the fewest stock lengths, or at the least price, and say
    whether that is proven.
    """
    for name, most in (("kerf", 10.0), ("trim", 200.0), ("least_offcut", 20000.0)):
        if not 0 <= getattr(options, name) <= most:
            option = f"--{name.replace('_', '-')}"
            raise FileError(
                say(
                    "{option} = {value:g}: must be from 0 to {most:g} mm",
                    option=option,
                    value=getattr(options, name),
                    most=most,
                )
            )
    saw = Saw(kerf_mm=options.kerf, trim_mm=options.trim, least_offcut_mm=options.least_offcut)
    plan = plan_of_list(load_cut_list(options.file), options.stock, options.in_hand, saw)
    if options.json:
        print(json.dumps(plan_report(plan), indent=2, allow_nan=False))
    else:
        _say(cut_sheet(plan))
    return WITHIN


def _demo(options: argparse.Namespace, window: Window) -> int:
    """Check a sample, write its workshop pack, and open it in the window where there is a screen."""
    sample = samples_folder() / _DEMO
    _say(
        say(
            "Demo: the sample {sample}\nis checked, its workshop pack written to {to}, and shown"
            " where there is a screen.\n",
            sample=sample,
            to=options.to,
        )
    )
    evaluation = _evaluated(sample)
    _say(check_sheet(evaluation))
    _write(evaluation, options.to)
    problem = say("--no-window was asked") if options.no_window else screen_problem() or shows_nothing()
    if problem:
        _say(say("No window: {problem}.", problem=problem))
        return WITHIN
    _say(say("The window opens now; close it to end the demo."))
    return window(sample)


def _desktop(options: argparse.Namespace, _: Window) -> int:
    """Put the program with its icon, and the type of its files, into the menu of a Linux desktop, for this
    user.
    """
    from rampdraft.cli.menu_entry import put_in, shared_data, take_out

    paths = (take_out if options.remove else put_in)(shared_data())
    done = say("Removed") if options.remove else say("Written")
    _say("\n".join(f"{done}: {path}" for path in paths) or say("There was nothing to remove."))
    return WITHIN


def _window(options: argparse.Namespace, window: Window) -> int:
    problem = screen_problem()
    if problem:
        complain(
            say(
                "cannot open the window: {problem}\nWithout a window: rampdraft check FILE,"
                " rampdraft export FILE --to DIR, rampdraft demo, rampdraft --help",
                problem=problem,
            )
        )
        return BAD_INPUT
    return window(options.file)


def _add_rules_from(folder: Path) -> None:
    if not folder.is_dir():
        raise FileError(say("--rules-from = {folder!r}: must be a folder", folder=str(folder)))
    add_folder(folder)


def _evaluated(file: Path) -> Evaluation:
    return evaluate(load_design(file), file.parent)


def _write(evaluation: Evaluation, folder: Path) -> None:
    # Imported only here: the formats take longer to load than the window has time to open.
    from rampdraft.export.pack import write_pack

    written = write_pack(evaluation, folder)
    _say(say("{count} files written to {folder}:", count=len(written), folder=folder))
    for path in written:
        _say(f"  {path}")
    _say(say("Checks: {tally}.", tally=tally_words(evaluation.all_checks)))


def _say(text: str) -> None:
    """Print text; a control character that a name may carry is not passed on to the terminal."""
    tell(
        "".join(
            letter if letter.isprintable() or letter == "\n" else "\N{REPLACEMENT CHARACTER}"
            for letter in text
        )
    )
