"""Rule sets that come with the program, and the user's own files: loaded, named, refused."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from ramps import all_sloping, base_design, checks, with_leaves

from rampdraft.checks.result import Status
from rampdraft.checks.rules.places import USED_AT
from rampdraft.checks.rules.reading import parse_rule_set
from rampdraft.checks.rules.sets import RuleSet, builtin_rule_sets, load_rule_set, rule_sets_for
from rampdraft.errors import FileError
from rampdraft.files.rule_files import add_folder, added_folders, name_of, refusal
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design

GOOD = """\
version = 1
key = "our-shed"
title = "Our shed"
status = "user's own"
jurisdiction = "Our yard"
publication = "Minutes of May"

[[limit]]
id = "slope"
title = "Slope"
clause = "3"
quantity = "gradient"
sense = "at most"
limit = 8
unit = "1:N"
sites = ["ground"]

[[limit]]
id = "width"
title = "Width"
clause = "4"
quantity = "clear_width"
sense = "at least"
limit = 30
unit = "in"
"""


def named(*names: str) -> Design:
    return replace(base_design(), use=replace(base_design().use, rule_sets=names))


def changed(old: str, new: str) -> str:
    assert GOOD.count(old) >= 1, f"the test's own text has no {old!r}"
    return GOOD.replace(old, new, 1)


def test_the_program_has_the_rule_sets_of_its_readme() -> None:
    assert [one.key for one in builtin_rule_sets()] == [
        "australia-transport",
        "france-guided-transport",
        "france-tourist-train",
        "france-vehicle",
        "germany-building",
        "grade-break",
        "hse-handling",
        "singapore-bus",
        "uk-building",
        "us-building",
        "us-vehicle",
        "us-vehicle-2016",
    ]


def test_secondary_sources_say_so() -> None:
    for one in builtin_rule_sets():
        secondary = one.key in {"australia-transport", "germany-building", "uk-building"}
        assert (one.status == "secondary source") is secondary
        assert ("secondary source" in one.publication) is secondary


def test_rules_written_for_something_else_only_warn() -> None:
    assert [one.key for one in builtin_rule_sets() if one.warning_only] == ["grade-break", "hse-handling"]


def test_own_file_is_read_and_judges() -> None:
    own = parse_rule_set(GOOD, "shed.toml")
    assert (own.key, own.status, len(own.limits)) == ("our-shed", "user's own", 2)
    assert own.limits[0].limit == pytest.approx(1 / 8)
    assert own.limits[0].sites == ("ground",)
    assert own.limits[1].limit == pytest.approx(762)
    assert own.limits[1].told.words == "30 in (762 mm)"
    for factor, status in ((0.99, Status.CLOSE), (1, Status.CLOSE), (1.01, Status.EXCEEDS)):
        found = checks(own, sites=all_sloping(factor / 8))
        assert found["our-shed/slope/site-1-empty"].status is status
        assert "our-shed/slope/site-2-empty" not in found
        assert found["our-shed/slope/site-1-empty"].source.publication == "Minutes of May"


@pytest.mark.parametrize(
    ("unit", "limit", "base", "words"),
    [
        ("1:N", "12", 1 / 12, "1:12"), ("%", "25", 0.25, "25 %"), ("deg", "7", 0.12278456090290459, "7°"),
    ],
)  # fmt: skip
def test_gradients_may_be_written_three_ways(unit: str, limit: str, base: float, words: str) -> None:
    """tan 7° = 0.122785 (any table of tangents)."""
    own = parse_rule_set(changed('limit = 8\nunit = "1:N"', f'limit = {limit}\nunit = "{unit}"'), "shed.toml")
    assert own.limits[0].limit == pytest.approx(base, rel=1e-12)
    assert own.limits[0].told.words == words


@pytest.mark.parametrize(
    ("quantity", "unit", "value", "base"),
    [
        ("clear_width", "mm", 800, 800), ("clear_width", "m", 0.8, 800), ("clear_width", "in", 36, 914.4),
        ("rated_load", "kg", 300, 300), ("rated_load", "lb", 600, 272.155422),
    ],
)  # fmt: skip
def test_units_are_converted_exactly(quantity: str, unit: str, value: float, base: float) -> None:
    """1 in = 25.4 mm and 1 lb = 0.45359237 kg, exact (international yard and pound, 1959)."""
    text = changed('quantity = "clear_width"', f'quantity = "{quantity}"')
    text = text.replace('limit = 30\nunit = "in"', f'limit = {value}\nunit = "{unit}"')
    assert parse_rule_set(text, "shed.toml").limits[1].limit == pytest.approx(base, rel=1e-12)


BROKEN = (
    ("version = 1\n", "", "version", "is missing", ""),
    ("version = 1", "version = 2", "version", "is later than this program reads", "newer version"),
    ("version = 1", "version = 0", "version", "must be 1", ""),
    ("version = 1", 'version = "1"', "version", "must be a number", "without quotes"),
    ('key = "our-shed"', 'key = "Our Shed"', "key", "small letters, digits and hyphens", ""),
    ('key = "our-shed"', "key = 3", "key", "must be text", ""),
    ('key = "our-shed"\n', "", "key", "is missing", ""),
    ("title = ", "titel = ", "titel", "is no key of a rule file", "did you mean 'title'?"),
    ("user's own", "law", "status", "not among what is allowed", "mandatory"),
    ("jurisdiction = ", "jurisdicton = ", "jurisdicton", "is no key", "did you mean 'jurisdiction'?"),
    ('publication = "Minutes of May"', 'publication = ""', "publication", "must be text, not empty", ""),
    ("publication", "warning_only = 1\npublication", "warning_only", "must be true or false", ""),
    ("gradient", "gradiant", "limit[1].quantity", "not among what is allowed", "did you mean 'gradient'?"),
    ('quantity = "gradient"\n', "", "limit[1].quantity", "is missing", ""),
    ("at most", "at mist", "limit[1].sense", "not among what is allowed", "did you mean 'at most'?"),
    ('sense = "at most"\n', "", "limit[1].sense", "is missing", ""),
    ("limit = 8\n", "", "limit[1].limit", "is missing", ""),
    ("limit = 8", 'limit = "8"', "limit[1].limit", "must be a number", "without quotes"),
    ("limit = 8", "limit = nan", "limit[1].limit", "must be from 0", ""),
    ("limit = 8", "limit = inf", "limit[1].limit", "must be from 0", ""),
    ("limit = 8", f"limit = 1{'0' * 400}", "limit[1].limit", "must be from 0", ""),
    ("version = 1", "version = -inf", "version", "must be from -1000000", ""),
    ('title = "Width"', 'title = "Wid\\u0007th"', "limit[2].title", "without control characters", ""),
    ("limit = 8", "limit = -8", "limit[1].limit", "must be from 0", ""),
    ("limit = 8", "limit = 0", "limit[1].limit", "must be at least 0.001", ""),
    ("limit = 8", "limit = 1e-320", "limit[1].limit", "must be at least 0.001", ""),
    ("limit = 8", "limit = true", "limit[1].limit", "must be a number", ""),
    ('limit = 8\nunit = "1:N"', 'limit = 90\nunit = "deg"', "limit[1].limit", "less than 90", ""),
    ('unit = "1:N"\n', "", "limit[1].unit", "is missing", ""),
    ('unit = "1:N"', 'unit = "degrees"', "limit[1].unit", "not among what is allowed", "did you mean 'deg'?"),
    ('unit = "in"', 'unit = "kg"', "limit[2].unit", "not among what is allowed", "use one of: mm, m, in"),
    ('["ground"]', '["grund"]', "limit[1].sites[1]", "is no kind of site", "did you mean 'ground'?"),
    ('["ground"]', "[]", "limit[1].sites", "at least one", "use one of"),
    (
        'quantity = "clear_width"\nsense = "at least"\nlimit = 30\nunit = "in"',
        'quantity = "strength"\nby = "ramp_length"\nsteps = [{ limit = 8 }]',
        "limit[2].by",
        "no meaning",
        "",
    ),
    (
        'quantity = "clear_width"',
        'quantity = "joint_held"\nreliefs = []',
        "limit[2].unit",
        "no meaning",
        "leave it out",
    ),
    ('["ground"]', '"ground"', "limit[1].sites", "must be a list", ""),
    ('unit = "in"', 'unit = "in"\nsites = ["ground"]', "limit[2].sites", "no meaning", "leave it out"),
    ('unit = "in"', 'unit = "in"\nkerb_mm = 150', "limit[2].kerb_mm", "no meaning for 'clear_width'", ""),
    ('id = "width"', 'id = "slope"', "limit[2].id", "stands twice", "own id"),
    ('id = "width"', 'ident = "width"', "limit[2].ident", "is no key", ""),
    ('clause = "4"\n', "", "limit[2].clause", "is missing", ""),
    ('sites = ["ground"]', 'by = "going"', "limit[1].steps", "list of tables", ""),
    ('sites = ["ground"]', "steps = [{ limit = 8 }]", "limit[1].by", "is missing", ""),
    (
        "limit = 8\n",
        'by = "goin"\nsteps = [{ limit = 8 }]\n',
        "limit[1].by",
        "not among",
        "did you mean 'going'?",
    ),
    (
        "limit = 8\n",
        'by = "going"\nsteps = [{ limit = 8 }, { limit = 9 }]\n',
        "limit[1].steps[1].up_to",
        "is missing",
        "",
    ),
    (
        "limit = 8\n",
        'by = "going"\nsteps = [{ up_to = 5, limit = 8 }, { up_to = 5, limit = 9 }]\n',
        "limit[1].steps[2].up_to",
        "more than in the step before",
        "",
    ),
    (
        "limit = 8\n",
        'by = "floor_above_kerb"\nsteps = [{ limit = 8 }]\n',
        "limit[1].kerb_mm",
        "is missing: floor_above_kerb",
        "",
    ),
    (
        'sites = ["ground"]',
        'by = "going"\nsteps = [{ limit = 8 }]',
        "limit[1].limit",
        "no meaning here",
        "in steps",
    ),
    ('sites = ["ground"]', "when = 3", "limit[1].when", "must be a table", ""),
    ('sites = ["ground"]', 'when = { number = "rise" }', "limit[1].when", "says no bound", ""),
    ('sites = ["ground"]', 'when = { number = "rise", above = 3 }', "limit[1].when.above", "is no key", ""),
    (
        'unit = "in"',
        'unit = "in"\nwhen = { number = "rise", over = 3 }',
        "limit[2].when.number",
        "of each site",
        "ramp_length",
    ),
    ('[[limit]]\nid = "slope"', '[limit]\nid = "slope"', "limit", "", ""),
)


@pytest.mark.parametrize(
    ("old", "new", "key", "rule", "way_out"), BROKEN, ids=[f"{row[2]}: {row[1][:30]!r}" for row in BROKEN]
)
def test_broken_file_is_refused_with_key_line_rule_and_way_out(
    old: str, new: str, key: str, rule: str, way_out: str
) -> None:
    with pytest.raises(FileError) as caught:
        parse_rule_set(changed(old, new), "shed.toml")
    assert "shed.toml" in str(caught.value)
    problem = next((one for one in caught.value.problems if one.key == key), None)
    assert problem is not None, str(caught.value)
    assert rule in problem.rule
    assert way_out in problem.way_out
    assert problem.line is not None or key in ("version", "key")


ALL_KEYS = """\
version = 1
key = "all"
title = "t"
status = "guideline"
jurisdiction = "j"
publication = "p"
note = "n"
warning_only = false
[[limit]]
id = "i"
title = "t"
clause = "c"
quantity = "gradient"
sense = "at most"
unit = "%"
limit = 8
words = "w"
sites = ["ground"]
kerb_mm = 100
when = { number = "rise", over = 1, at_least = 1, up_to = 900, under = 900, unit = "mm" }
reliefs = [{ number = "rise", up_to = 3, number_unit = "in", limit = 9, words = "w" }]
note = "n"
[[limit]]
id = "k"
title = "t"
clause = "c"
quantity = "rise"
sense = "at most"
by = "going"
by_unit = "m"
steps = [{ up_to = 2, limit = 166, words = "w" }, { limit = 333 }]
"""

NASTY = (
    '""',
    '"x"',
    "0",
    "-1",
    "1.5",
    "nan",
    "inf",
    "true",
    "[]",
    "[[]]",
    "[{}]",
    "{}",
    "1979-05-27",
    '["x"]',
    "{ x = 1 }",
    "1e300",
)


def test_file_with_every_key_is_read() -> None:
    assert len(parse_rule_set(ALL_KEYS, "all.toml").limits) == 2


@pytest.mark.parametrize("nasty", NASTY)
def test_any_value_anywhere_is_taken_or_refused_in_words(nasty: str) -> None:
    """Every value of a file with every key, replaced in turn, rows and tables inside included."""
    places = [match.span(1) for match in re.finditer(r"= (\"[^\"]*\"|\[[^]]*\]|\{[^}]*\}|[\w.]+)", ALL_KEYS)]
    places += [match.span(1) for match in re.finditer(r"[{,] \w+ = (\"[^\"]*\"|[\w.]+)", ALL_KEYS)]
    refused: list[FileError] = []
    for start, end in places:
        try:
            parse_rule_set(ALL_KEYS[:start] + nasty + ALL_KEYS[end:], "all.toml")
        except FileError as error:
            refused.append(error)
    assert len(places) > 35
    assert len(refused) > len(places) / 4
    assert all(error.problems for error in refused)


def test_line_is_the_line_of_the_key() -> None:
    with pytest.raises(FileError) as caught:
        parse_rule_set(changed("limit = 30", 'limit = "30"'), "shed.toml")
    assert [(one.key, one.line) for one in caught.value.problems] == [("limit[2].limit", 24)]


def test_every_problem_is_told_at_once() -> None:
    text = changed("gradient", "gradiant").replace("limit = 30", "limit = nan").replace("Our yard", "")
    with pytest.raises(FileError) as caught:
        parse_rule_set(text, "shed.toml")
    assert {one.key for one in caught.value.problems} == {
        "limit[1].quantity",
        "limit[2].limit",
        "jurisdiction",
    }


@pytest.mark.parametrize(
    "text",
    ["", "version = 1", "limit = 3", "version = 1\nlimit = []", "version = 1\nlimit = [3]", "[[", "\x00"],
)
def test_what_is_no_rule_file_is_refused(text: str) -> None:
    with pytest.raises(FileError):
        parse_rule_set(text, "shed.toml")


@pytest.mark.parametrize("old", ['"at most"', "limit = 8", 'clause = "', '"gradient"'])
def test_a_number_of_more_digits_than_can_be_written_is_told(old: str) -> None:
    """Python writes integers of 4300 digits at most."""
    huge = "0x" + "f" * 9000
    text = changed(old, huge if old.startswith('"') else old.partition("=")[0] + f"= {huge} #")
    for one in (text, text.replace("[[limit]]", f"[[limit]]\nsites = [{huge}]", 1)):
        with pytest.raises(FileError):
            parse_rule_set(one, "shed.toml")


def test_design_names_rule_sets_in_its_order_and_each_once(tmp_path: Path) -> None:
    (tmp_path / "shed.toml").write_text(GOOD, encoding="utf-8")
    found = rule_sets_for(named("us-vehicle", "shed.toml", "france-vehicle", "us-vehicle"), tmp_path)
    assert [one.key for one in found] == ["us-vehicle", "our-shed", "france-vehicle"]


def test_own_files_elsewhere_need_their_folder_added(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    design, elsewhere = tmp_path / "design", tmp_path / "elsewhere"
    for folder in (design / "below", elsewhere):
        folder.mkdir(parents=True)
        (folder / "shed.toml").write_text(GOOD, encoding="utf-8")
    (design / "link.toml").symlink_to(elsewhere / "shed.toml")
    names = [
        "../elsewhere/shed.toml",
        str(elsewhere / "shed.toml"),
        "link.toml",
        "below/../../elsewhere/shed.toml",
    ]
    inside = ["below/shed.toml", str(design / "below" / "shed.toml"), "../design/below/shed.toml"]
    assert [rule_sets_for(named(name), design)[0].key for name in inside] == ["our-shed"] * 3
    for name in names:
        with pytest.raises(FileError, match="lies outside the folder of the design"):
            rule_sets_for(named(name), design)
    add_folder(elsewhere)
    add_folder(elsewhere)
    assert added_folders() == (elsewhere,)
    assert [rule_sets_for(named(name), design)[0].key for name in names] == ["our-shed"] * 4
    assert rule_sets_for(named(str(elsewhere / "shed.toml")), None)[0].key == "our-shed"


@pytest.mark.parametrize(
    "name",
    [
        "\\\\server\\share\\a.toml",
        "//server/share/a.toml",
        "\\\\.\\pipe\\a.toml",
        "\\\\?\\C:\\a.toml",
        "http://server/a.toml",
        "file:///etc/a.toml",
        "rules/CON.toml",
        "nul.x.toml",
        "a\0.toml",
    ],
)
def test_what_may_be_another_computer_or_a_device_is_not_even_looked_at(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "resolve", lambda *_, **__: pytest.fail("looked at"))
    assert refusal(name, tmp_path)[0] == "names another computer or a device"


def test_a_file_that_is_chosen_is_named_from_the_design(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    design, file = tmp_path / "design", tmp_path / "elsewhere" / "shed.toml"
    assert name_of(design / "rules" / "shed.toml", design) == "rules/shed.toml"
    assert added_folders() == ()
    assert name_of(file, design) == str(file)
    assert added_folders() == (file.parent,)


def test_own_file_that_changed_is_read_again(tmp_path: Path) -> None:
    file = tmp_path / "shed.toml"
    file.write_text(GOOD, encoding="utf-8")
    assert rule_sets_for(named("shed.toml"), tmp_path)[0].limits[0].limit == pytest.approx(1 / 8)
    file.write_text(changed("limit = 8", "limit = 6"), encoding="utf-8")
    assert rule_sets_for(named("shed.toml"), tmp_path)[0].limits[0].limit == pytest.approx(1 / 6)


def test_unknown_names_are_refused_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="did you mean 'us-vehicle'"):
        rule_sets_for(named("us-vehicel"), tmp_path)
    with pytest.raises(FileError, match="does not exist"):
        rule_sets_for(named("none.toml"), tmp_path)
    with pytest.raises(FileError, match="save it first"):
        rule_sets_for(named("shed.toml"), None)


def test_keys_of_the_program_and_of_another_file_are_taken(tmp_path: Path) -> None:
    for taken in ("us-vehicle", "own"):
        (tmp_path / "shed.toml").write_text(changed("our-shed", taken), encoding="utf-8")
        with pytest.raises(FileError, match="is the key of a rule set of the program"):
            load_rule_set(tmp_path / "shed.toml")
    (tmp_path / "shed.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "barn.toml").write_text(changed("limit = 8", "limit = 9"), encoding="utf-8")
    with pytest.raises(FileError, match="of another file"):
        rule_sets_for(named("shed.toml", "barn.toml"), tmp_path)


def test_sample_rule_file_is_an_agreement_and_says_so() -> None:
    barn: RuleSet = load_rule_set(samples_folder() / "rules" / "barn-assisted.toml")
    assert barn.status == "user's own"
    assert "not a published limit" in barn.publication
    found = checks(barn, sites=all_sloping(1 / 6), design=with_leaves(base_design()))
    assert found["barn-assisted/slope/site-1-empty"].status is Status.CLOSE
    assert "no published rule stands behind it" in found["barn-assisted/slope/site-1-empty"].why


def test_every_rule_set_is_written_for_some_place() -> None:
    placed = {key for place in USED_AT for key in place.rule_sets}
    assert placed == {one.key for one in builtin_rule_sets()}
