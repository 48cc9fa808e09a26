"""The whole workshop pack in one folder: profiles, lists, sheets, views, the design itself and what the
checks say.
"""

import datetime
import errno
import json
import os
import re
from collections.abc import Callable, Collection, Generator, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final, Protocol

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.rules.sets import RuleSet
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.side import standing_view, stowed_view
from rampdraft.errors import ExportError, FileError, Problem
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.csv_table import table_csv
from rampdraft.export.dxf import is_worth_cutting, part_dxf, sheet_dxf, unrolled_dxf
from rampdraft.export.dxf_drawings import drawings_dxf
from rampdraft.export.file_names import safe_stem
from rampdraft.export.json_report import report
from rampdraft.export.lists import lists
from rampdraft.export.pdf.bench import bench_pack_pdf
from rampdraft.export.pdf.check_sheet import check_sheet_pdf
from rampdraft.export.pdf.hand_over import hand_over_pdf
from rampdraft.export.pdf.templates import templates_pdf
from rampdraft.export.revision import revision_of
from rampdraft.export.svg import picture_svg, profile_svg
from rampdraft.export.swap import clear_up, first_locked, refusal, rehearse, swap_in
from rampdraft.export.xlsx import lists_xlsx
from rampdraft.files.design_file import design_text
from rampdraft.files.text_file import read_text
from rampdraft.geometry.developed import worth_unrolling
from rampdraft.model.fields.paths import with_value
from rampdraft.progress import Progress, nobody
from rampdraft.shop.parts import Part, full_number
from rampdraft.words.manner import in_decimals, manner, speaking
from rampdraft.words.say import say

PACK_LIST: Final = "pack.txt"

_HEAD: Final = "rampdraft pack"
_FILES: Final = "Files:"
_NAME: Final = re.compile(
    r"(?:(?:profiles|rules|views)/)?[^./\\:\x00-\x1f][^./\\:\x00-\x1f]*\.(?:toml|dxf|csv|xlsx|json|svg|pdf)"
)
"""What may stand in a list: an export takes away no other file, whatever somebody wrote into it."""

REASONS: Final = {
    errno.EEXIST: ("is a file and no folder", "choose another name"),
    errno.ENOTDIR: ("lies below a file, not below a folder", "choose another folder"),
    errno.EACCES: ("may not be written", "choose a folder of your own"),
    errno.EPERM: ("may not be written", "choose a folder of your own"),
    errno.EROFS: ("lies on a disk that can only be read", "choose a folder on another disk"),
    errno.ENOSPC: ("has no room left on its disk", "make room or choose another disk"),
    errno.ENAMETOOLONG: ("has a name that is too long", "choose a shorter one"),
}
"""What an error of the system means here, and the way out."""


class _Printed(Protocol):
    """Makes a paper of a design, as PDF."""

    def __call__(self, evaluation: Evaluation, *, date: str, revision: str = "") -> bytes: ...


PAPERS: Final[dict[str, _Printed]] = {
    "templates": templates_pdf,
    "bench-pack": bench_pack_pdf,
    "check-sheet": check_sheet_pdf,
    "hand-over": hand_over_pdf,
}
"""What a pack holds to be printed, by its key."""


def write_pack(
    evaluation: Evaluation, folder: Path, progress: Progress = nobody, *, date: str | None = None
) -> tuple[Path, ...]:
    """Write the pack of a design into a folder, which is made if need be, and return the paths of all files
    written.

    What hinders the writing is told before anything is made. All files are made before the first one is
    written, so that `progress` may call the work off with nothing changed, and put into the folder all at
    once (`swap_in`). The file `pack.txt` names what belongs to the pack: an export into the same folder takes
    away what the one before wrote and this one does not, so that no stale profile stands beside the new ones.
    Nothing else in the folder changes. `date` stands in the title blocks; None for today's.

    Raises ExportError when the folder cannot be written to, or when a file of the user's has a name that the
    pack needs.
    """
    contents: dict[str, bytes] = {}
    packed, date = with_rules_of_the_pack(evaluation), date or datetime.date.today().isoformat()
    with speaking(in_decimals(manner())):
        jobs = tuple(_jobs(packed, date))
        names = [name for _, name, _ in jobs]
        with _told(folder):
            _refuse(folder, names, read_pack_list(folder))
            rehearse(folder, names)
        for share, name, make in jobs:
            progress(share, name)
            contents[name] = make()
    written = write_together(folder, contents)
    progress(1.0, "")
    return written


def papers(evaluation: Evaluation, progress: Progress = nobody) -> dict[str, bytes]:
    """Return what a pack of today holds to be printed, each paper as PDF; `progress` is told its key."""
    packed, date = with_rules_of_the_pack(evaluation), datetime.date.today().isoformat()
    mark, made = revision_of(packed), dict[str, bytes]()
    with speaking(in_decimals(manner())):
        for number, (key, make) in enumerate(PAPERS.items()):
            progress(number / len(PAPERS), key)
            made[key] = make(packed, date=date, revision=mark)
    return made


def write_together(folder: Path, contents: dict[str, bytes]) -> tuple[Path, ...]:
    """Write files that belong together into a folder, which is made if need be, by their paths below it, and
    return the paths of all files written, their list the last; what an earlier export wrote there and is not
    among them goes.

    Raises ExportError as `write_pack` does.
    """
    contents = {**contents, PACK_LIST: pack_list_text(list(contents), tuple(map(say, CAUTIONS)))}
    with _told(folder):
        clear_up(folder)
        before = read_pack_list(folder)
        _refuse(folder, contents, before)
        swap_in(folder, contents, before)
    return tuple(folder / name for name in contents)


def with_rules_of_the_pack(evaluation: Evaluation) -> Evaluation:
    """Return the evaluation of a design that names its own rule files where the pack holds them."""
    names = tuple(rules_name(one) if one.text else one.key for one in evaluation.rule_sets)
    named = with_value(evaluation.design, "use.rule_sets", names)
    return Evaluation(named, evaluation.rule_sets, before=evaluation)


def rules_name(rule_set: RuleSet) -> str:
    """Return where a pack holds a rule file of the user's own."""
    return f"rules/{safe_stem(rule_set.key)}.toml"


def _jobs(evaluation: Evaluation, date: str) -> Iterator[tuple[float, str, Callable[[], bytes]]]:
    """Yield (share done before it, name, what makes it) of every file."""
    design, parts, drawing = evaluation.design, evaluation.parts, evaluation.design.about.drawing_number
    stem, mark = safe_stem(design.about.name), revision_of(evaluation)
    yield 0.0, f"{stem}.toml", lambda: design_text(design).encode()
    for rule_set in evaluation.rule_sets:
        if rule_set.text:
            yield 0.0, rules_name(rule_set), lambda text=rule_set.text: text.encode()
    cut = [part for part in parts if is_worth_cutting(part)]
    for index, part in enumerate(cut):
        name = f"{safe_stem(drawing, 'drawing')}-{part.number}" if drawing.strip() else part.number
        share = 0.3 * index / len(cut)
        yield share, f"profiles/{name}.dxf", lambda part=part: part_dxf(part, drawing, mark)
        yield share, f"profiles/{name}.svg", lambda part=part: _svg(part, drawing, mark)
        sheet = worth_unrolling(part.piece)
        if sheet is not None:
            yield (
                share,
                f"profiles/{name}-unrolled.dxf",
                lambda part=part, sheet=sheet: unrolled_dxf(part, sheet, drawing, mark),
            )
    yield 0.3, "all-parts.dxf", lambda: sheet_dxf(cut, drawing, mark)
    tables = lists(evaluation)
    for table in tables:
        yield 0.33, f"{table.key}.csv", lambda table=table: table_csv(table, mark)
    yield 0.35, "lists.xlsx", lambda: lists_xlsx(tables, design.about.name, mark)
    yield 0.36, "checks.json", lambda: _json(evaluation, mark)
    yield 0.38, "views/plan.svg", lambda: picture_svg(plan_view(evaluation)).encode()
    yield 0.4, "views/stowed.svg", lambda: picture_svg(stowed_view(evaluation)).encode()
    for site in evaluation.sites:
        if site.site_number and site.state == "empty":
            name = f"views/site-{site.site_number}.svg"
            yield 0.42, name, lambda site=site: picture_svg(standing_view(evaluation, site)).encode()
    yield 0.44, "drawings.dxf", lambda: drawings_dxf(evaluation, mark)
    for share, paper in zip((0.46, 0.5, 0.6, 0.95), PAPERS, strict=True):
        yield share, f"{paper}.pdf", lambda paper=paper: PAPERS[paper](evaluation, date=date, revision=mark)


def _svg(part: Part, drawing: str, revision: str) -> bytes:
    title = say(
        "{number} {name}, {quantity} off, revision {mark}",
        number=full_number(part, drawing),
        name=part.words,
        quantity=part.quantity,
        mark=revision,
    )
    return profile_svg(part.piece.profile, title).encode()


def _json(evaluation: Evaluation, revision: str) -> bytes:
    told = {**report(evaluation), "revision": revision}
    text = json.dumps(told, indent=2, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()


def _refuse(folder: Path, contents: Collection[str], before: tuple[str, ...]) -> None:
    """Raise FileError, before anything is touched, where the files must not be put into the folder."""
    problem = refusal(folder)
    if problem is not None:
        raise FileError("", (problem,))
    for name in sorted({name.rpartition("/")[0] for name in (*contents, *before)} - {""}):
        if (folder / name).is_symlink():
            raise _refused(
                folder / name,
                say("is a link, so what is written there would land elsewhere"),
                say("choose another folder"),
            )
    known = {name.casefold() for name in (*before, PACK_LIST)}
    for name in contents:
        if name.casefold() not in known and os.path.lexists(folder / name):
            raise _refused(
                folder / name,
                say("is there already and belongs to no pack"),
                say("move it, or choose another folder"),
            )
    locked = first_locked(folder, (*contents, *before))
    if locked is not None:
        raise _refused(
            locked, say("is write-protected"), say("take the protection off, or choose another folder")
        )


def read_pack_list(folder: Path) -> tuple[str, ...]:
    """Return the paths below the folder, with `/`, of what an earlier export wrote into it; none where there
    is no list.

    Raises FileError when the file is not one that an export wrote.
    """
    path = folder / PACK_LIST
    if not path.is_symlink() and not path.exists():
        return ()
    lines = read_text(path).splitlines()
    if not lines or lines[0] != _HEAD or _FILES not in lines or path.is_symlink():
        raise _refused(
            path, say("is there already and is no list of a pack"), say("move it, or choose another folder")
        )
    names = [line.strip() for line in lines[lines.index(_FILES) + 1 :] if line.strip()]
    wrong = next((name for name in names if _NAME.fullmatch(name) is None), None)
    if wrong is not None:
        raise _refused(
            path,
            say("names {name!r}, which is no file of a pack", name=wrong),
            say("move the list, or choose another folder"),
        )
    return tuple(names)


def pack_list_text(names: Sequence[str], cautions: Sequence[str]) -> bytes:
    """Return the list of a pack as UTF-8 text."""
    lines = (
        _HEAD,
        "",
        say(
            "These files were written together and belong together. An export into this folder replaces them."
        ),
        "",
        *map(say, cautions),
        "",
        _FILES,
        *(f"  {name}" for name in names),
    )
    return ("\n".join(lines) + "\n").encode()


@contextmanager
def _told(folder: Path) -> Generator[None]:
    """Turn whatever hinders the writing into an ExportError."""
    headline = say("The pack was not written.")
    try:
        yield
    except FileError as error:
        raise ExportError(headline, error.problems) from None
    except ValueError:  # a zero byte in the name
        problem = Problem(
            key="folder",
            value=repr(str(folder)),
            rule=say("is no name of a folder"),
            way_out=say("choose another name"),
        )
        raise ExportError(headline, (problem,)) from None
    except OSError as error:
        place = error.filename if isinstance(error.filename, str) else str(folder)
        rule, way_out = REASONS.get(
            error.errno or 0, ("cannot be written: {reason}", "choose another folder")
        )
        told = say(rule, reason=error.strerror or error)
        raise ExportError(
            headline, (Problem(key="folder", value=place, rule=told, way_out=say(way_out)),)
        ) from None


def _refused(path: Path, rule: str, way_out: str) -> FileError:
    problem = Problem(key="file", value=str(path), rule=rule, way_out=way_out)
    return FileError(say("{path!r} {rule}.", path=str(path), rule=rule), (problem,))
