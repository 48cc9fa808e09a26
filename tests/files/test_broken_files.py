"""A table of broken design files. Each is one good file with one thing spoilt, and must be told with key,
line and rule.
"""

from dataclasses import dataclass
from pathlib import Path

import pytest

from rampdraft.errors import FileError
from rampdraft.files.design_file import design_text, read_design

GOOD = (Path(__file__).parent / "ramp_version_1.toml").read_text(encoding="utf-8")
"""A file as version 1 writes it, kept as it was written: it must open for ever."""


END = "the end of the file"


@dataclass(frozen=True)
class Broken:
    """One edit and what must be said of it."""

    table: str
    """The header below which `old` is sought; empty for the top of the file."""
    old: str
    new: str
    key: str
    says: str
    line_of: str = ""
    """The text, sought from `table` on in the broken file, whose line must be named; empty for the edit's
    own.
    """
    also: tuple[str, ...] = ()
    """Other keys that the same edit makes wrong."""

    def text(self) -> str:
        return GOOD[: self._place()] + self.new + GOOD[self._place() + len(self.old) :]

    def line(self) -> int:
        text = self.text()
        if self.line_of == END:
            return text.rstrip("\n").count("\n") + 1
        place = text.index(self.line_of, text.index(self.table)) if self.line_of else self._place()
        return text.count("\n", 0, place) + 1

    def _place(self) -> int:
        return GOOD.index(self.old, GOOD.index(self.table))


def span(start: str, end: str = "") -> str:
    """Return the good text from one header to another, or to the end."""
    return GOOD[GOOD.index(start) : GOOD.index(end) if end else len(GOOD)]


HEADER = [
    Broken("", 'format = "rampdraft design"\n', "", "format", "is missing", line_of=END),
    Broken("", '"rampdraft design"', '"rampdraft rules"', "format", 'must be "rampdraft design"'),
    Broken("", '"rampdraft design"', "7", "format", 'must be "rampdraft design"'),
    Broken("", "version = 1\n", "", "version", "is missing", line_of=END),
    Broken("", "version = 1", 'version = "1"', "version", "must be a whole number"),
    Broken("", "version = 1", "version = true", "version", "must be a whole number"),
    Broken("", "version = 1", "version = 1.0", "version", "must be a whole number"),
    Broken("", "version = 1", "version = 0", "version", "must be a whole number from 1 up"),
    Broken(
        "", "version = 1", "version = 2", "version", "later version (format 2); this program reads up to 1"
    ),
    Broken(
        "", "version = 1", "version = 99", "version", "later version (format 99); this program reads up to 1"
    ),
]

SYNTAX = [
    Broken("[about]", 'name = "New ramp"', 'name = "New ramp', "about.name", "is not TOML"),
    Broken("[about]", 'name = "New ramp"', "name = New ramp", "about.name", "is not TOML: invalid value"),
    Broken("[about]", 'name = "New ramp"', 'name = "New \\ramp \\q"', "about.name", "is not TOML"),
    Broken("[about]", 'name = "New ramp"', 'name = "New \x07ramp"', "about.name", "is not TOML"),
    Broken(
        "[carrier]",
        "deck_height_mm = 420",
        "deck_height_mm 420",
        "carrier.deck_height_mm",
        "is not TOML: expected '='",
    ),
    Broken(
        "[carrier]",
        "deck_height_mm = 420",
        "deck_height_mm =",
        "carrier.deck_height_mm",
        "is not TOML: invalid value",
    ),
    Broken(
        "[carrier]", "deck_height_mm = 420", "deck_height_mm = 1,420", "carrier.deck_height_mm", "is not TOML"
    ),
    Broken(
        "[carrier]", "deck_height_mm = 420", 'deck_height_mm = 16"', "carrier.deck_height_mm", "is not TOML"
    ),
    Broken(
        "[carrier]",
        "deck_height_mm = 420",
        "deck_height_mm = 420 mm",
        "carrier.deck_height_mm",
        "is not TOML",
    ),
    Broken("[carrier]", "deck_height_mm = 420", "deck height = 420", "carrier.deck", "is not TOML"),
    Broken("[carrier]", "deck_height_mm = 420", "420", "carrier.420", "is not TOML"),
    Broken("[prop]", "fitted = false", "fitted = False", "prop.fitted", "is not TOML: invalid value"),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        "[200, 675, 1150",
        "inner_leaf.cross_positions_mm[3]",
        "is not TOML: unclosed array",
        line_of="cross_fitting",
    ),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        "[200, ..., 1150]",
        "inner_leaf.cross_positions_mm[2]",
        "is not TOML",
    ),
    Broken(
        "[joint]",
        "pin_diameter_mm = 12",
        "pin_diameter_mm = 12\npin_diameter_mm = 12",
        "joint.pin_diameter_mm",
        "stands twice (delete one; the first is in line 76)",
        line_of="pin_diameter_mm = 12  #",
    ),
    Broken("[stop]", "[stop]", "[prop]\n[stop]", "prop", "stands twice", line_of="[prop]\nfitted"),
    Broken("[stop]", "[stop]", "[fold]\n[stop]", "fold", "stands twice"),
    Broken("[stop]", "[stop]", "[stop", "stop", "is not TOML"),
]

UNKNOWN = [
    Broken(
        "[inner_leaf]",
        "slat_pitch_mm = 105",
        "slat_pitch_mm = 105\nslat_pich_mm = 105",
        "inner_leaf.slat_pich_mm",
        "did you mean 'slat_pitch_mm'?",
        line_of="slat_pich",
    ),
    Broken(
        "[joint]",
        "side_gap_mm = 2",
        "side_gap_mm = 2\nSide_Gap_mm = 2",
        "joint.Side_Gap_mm",
        "did you mean 'side_gap_mm'?",
        line_of="Side",
    ),
    Broken(
        "[joint]",
        "side_gap_mm = 2",
        "side_gap_mm = 2\ncolour = 2",
        "joint.colour",
        "is no key of a design (delete it)",
        line_of="colour",
    ),
    Broken(
        "[joint]",
        "side_gap_mm = 2",
        "side_gap_mm = 2\nside_gap_mm.x = 2",
        "joint.side_gap_mm",
        "stands twice",
        line_of="side_gap_mm.x",
    ),
    Broken(
        "[joint]",
        "side_gap_mm = 2",
        'side_gap_mm = 2\n"a \\u0007 key" = 2',
        "joint.'a \\x07 key'",
        "is no key of a design",
        line_of='"a \\u0007',
    ),
    Broken(
        "[prop]",
        "[prop]",
        "[props]",
        "props",
        "is no table of a design (did you mean 'prop'?)",
        also=("prop",),
    ),
    Broken("[prop]", "[prop]", "[gearbox]\nx = 1\n[prop]", "gearbox", "use one of: about, carrier"),
    Broken("", "version = 1", "version = 1\ncolour = 3", "colour", "is no key of a design", line_of="colour"),
    Broken("[[site]]", "[[site]]", "[[sites]]\nx = 1\n[[site]]", "sites", "did you mean 'site'?"),
    Broken(
        "[[site]]",
        'kind = "ground"',
        'kind = "ground"\nheight = 3',
        "site[1].height",
        "is no key of a design",
        line_of="height = 3",
    ),
    Broken(
        "[[use.user]]",
        "mass_kg = 150",
        "mass_kg = 150\nmass = 3",
        "use.user[1].mass",
        "did you mean 'mass_kg'?",
        line_of="mass = 3",
    ),
]

MISSING = [
    Broken(
        "[carrier]",
        "deck_height_mm = 420  # Deck height, empty, mm\n",
        "",
        "carrier.deck_height_mm",
        "is missing: Deck height, empty, mm",
        line_of="[carrier]",
    ),
    Broken(
        "[toe]",
        'kind = "flap"  # Toe: plain, taper, flap\n',
        "",
        "toe.kind",
        "is missing: Toe",
        line_of="[toe]",
    ),
    Broken(
        "[[site]]",
        'name = "Level yard"  # Name\n',
        "",
        "site[1].name",
        "is missing: Name",
        line_of="[[site]]",
    ),
    Broken("[prop]", span("[prop]", "[toe]"), "", "prop", "the file needs a table [prop]", line_of=END),
    Broken(
        "[[site]]",
        span("[[site]]", "[[stock]]"),
        "",
        "site",
        "the file needs at least one [[site]]",
        line_of=END,
    ),
    Broken("[[site]]", span("[[site]]"), "", "site", "at least one [[site]]", line_of=END),
]

TYPES = [
    Broken(
        "[carrier]",
        "= 420",
        '= "420"',
        "carrier.deck_height_mm",
        "must be a number, not text (write it without quotes)",
    ),
    Broken("[carrier]", "= 420", "= true", "carrier.deck_height_mm", "must be a number, not true or false"),
    Broken("[carrier]", "= 420", "= [420]", "carrier.deck_height_mm", "must be a number, not a list"),
    Broken("[carrier]", "= 420", "= {mm = 420}", "carrier.deck_height_mm", "must be a number, not a table"),
    Broken(
        "[carrier]", "= 420", "= 2024-02-03", "carrier.deck_height_mm", "must be a number, not a date or time"
    ),
    Broken("[about]", '"New ramp"', "12", "about.name", "must be text, not a number (put it in quotes)"),
    Broken("[about]", '"New ramp"', "false", "about.name", "must be text, not true or false"),
    Broken("[prop]", "false", "0", "prop.fitted", "must be true or false, not a number"),
    Broken("[prop]", "false", '"no"', "prop.fitted", "must be true or false, not text"),
    Broken("[stop]", "count = 3", "count = 2.5", "stop.count", "must be a whole number"),
    Broken(
        "[stop]",
        "count = 3",
        "count = 3.0",
        "stop.count",
        "must be a whole number (write it without a point)",
    ),
    Broken("[stop]", "count = 3", 'count = "3"', "stop.count", "must be a whole number, not text"),
    Broken("[stop]", "count = 3", "count = true", "stop.count", "must be a whole number, not true or false"),
    Broken("[fold]", '"backs"', "1", "fold.closing", "must be one of: 'backs', 'faces'"),
    Broken(
        "[inner_leaf]", '"box 40x20x2"', "40", "inner_leaf.rail_section", "must be a section, not a number"
    ),
    Broken(
        "[inner_leaf]", "[-386, 0, 386]", "386", "inner_leaf.rail_lanes_mm", "must be a list, not a number"
    ),
    Broken(
        "[inner_leaf]",
        "[-386, 0, 386]",
        '[-386, "0", 386]',
        "inner_leaf.rail_lanes_mm[2]",
        "must be a number, not text",
    ),
    Broken(
        "[inner_leaf]",
        "[-386, 0, 386]",
        "[-386, [0], 386]",
        "inner_leaf.rail_lanes_mm[2]",
        "must be a number, not a list",
    ),
    Broken(
        "[inner_leaf]",
        "[-386, 0, 386]",
        "[\n-386,\n0,\nnan]",
        "inner_leaf.rail_lanes_mm[3]",
        "must be a finite number",
        line_of="nan",
    ),
    Broken(
        "[use]",
        '["us-vehicle-2016", "france-vehicle"]',
        '"us-vehicle-2016"',
        "use.rule_sets",
        "must be a list, not text",
    ),
    Broken("[use]", '"france-vehicle"]', "3]", "use.rule_sets[2]", "must be text, not a number"),
    Broken("[made_of]", '"timber C24"', "24", "made_of.slats", "must be text, not a number"),
    Broken("[prop]", "[prop]", "[[prop]]", "prop", "must be a table, not a list (write [prop] once"),
    Broken(
        "[[use.user]]",
        span("[[use.user]]", "[made_of]"),
        "user = 3\n",
        "use.user",
        "must be a list of tables, not a number",
    ),
    Broken(
        "[[use.user]]",
        span("[[use.user]]", "[made_of]"),
        "user = [3]\n",
        "use.user[1]",
        "must be a table, not a number",
    ),
    Broken(
        "[[stock]]",
        span("[[stock]]"),
        "[stock]\nlength_mm = 3000\n",
        "stock",
        "must be a list of tables, not a table (write [[stock]]",
    ),
]

RANGES = [
    Broken(
        "[carrier]",
        "= 420",
        "= nan",
        "carrier.deck_height_mm",
        "must be a finite number (give a number from 50 to 2000 mm)",
    ),
    Broken("[carrier]", "= 420", "= inf", "carrier.deck_height_mm", "must be a finite number"),
    Broken("[carrier]", "= 420", "= -inf", "carrier.deck_height_mm", "must be a finite number"),
    Broken("[carrier]", "= 420", "= 1e999", "carrier.deck_height_mm", "must be a finite number"),
    Broken("[carrier]", "= 420", "= 49.99", "carrier.deck_height_mm", "must be from 50 to 2000 mm"),
    Broken("[carrier]", "= 420", "= 2000.01", "carrier.deck_height_mm", "must be from 50 to 2000 mm"),
    Broken("[carrier]", "= 420", f"= {10**400}", "carrier.deck_height_mm", "must be from 50 to 2000 mm"),
    Broken(
        "[carrier]",
        "= 420",
        "= 0x" + "f" * 9000,
        "carrier.deck_height_mm",
        "a huge number: must be from 50 to 2000 mm",
    ),
    Broken(
        "[carrier]", "= 420", f"= {'9' * 5000}", "carrier.deck_height_mm", "has more digits than can be read"
    ),
    Broken("[stop]", "gap_mm = 0.5", "gap_mm = -0.5", "stop.gap_mm", "must be from 0 to 20 mm"),
    Broken("[joint]", "side_gap_mm = 2", "side_gap_mm = -1", "joint.side_gap_mm", "must be from 0 to 30 mm"),
    Broken(
        "[joint]",
        "running_clearance_mm = 2",
        "running_clearance_mm = -2",
        "joint.running_clearance_mm",
        "must be from 0 to 20 mm",
    ),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        "[200, 675, 11500]",
        "inner_leaf.cross_positions_mm[3]",
        "must be from 0 to 6000 mm",
    ),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        f"[{'0,' * 201}]",
        "inner_leaf.cross_positions_mm",
        "must have at most 200 values",
    ),
    Broken("[stop]", "count = 3", "count = 0", "stop.count", "must be from 1 to 12"),
    Broken("[stop]", "count = 3", "count = 13", "stop.count", "must be from 1 to 12"),
    Broken("[fold]", "closed_deg = 180", "closed_deg = 181", "fold.closed_deg", "must be from 90 to 180 deg"),
    Broken(
        "[[site]]",
        "cross_slope_percent = 0",
        "cross_slope_percent = 30",
        "site[1].cross_slope_percent",
        "must be from -20 to 20 %",
    ),
    Broken(
        "[[site]]", "[4000, 0]]", "[40000, 0]]", "site[1].ground_mm[2][1]", "must be from -20000 to 20000 mm"
    ),
]

WORDS = [
    Broken("[fold]", '"backs"', '"back"', "fold.closing", "did you mean 'backs'?"),
    Broken("[fold]", '"backs"', '"sideways"', "fold.closing", "must be one of: 'backs', 'faces'"),
    Broken("[toe]", '"flap"', '"Flap"', "toe.kind", "did you mean 'flap'?"),
    Broken(
        "[[use.user]]",
        '"manual wheelchair"',
        '"wheelchair"',
        "use.user[1].kind",
        "did you mean 'manual wheelchair'?",
    ),
    Broken("[about]", '"New ramp"', '""', "about.name", "must not be empty"),
    Broken("[about]", '"New ramp"', '"   "', "about.name", "must not be empty"),
    Broken("[about]", '"New ramp"', f'"{"x" * 81}"', "about.name", "must have at most 80 characters, not 81"),
    Broken("[about]", '"New ramp"', '"New\\u0007ramp"', "about.name", "must not hold control characters"),
    Broken("[about]", '"New ramp"', '"New\\u2028ramp"', "about.name", "must not hold control characters"),
    Broken("[about]", '"New ramp"', '"New\\nramp"', "about.name", "must be text on one line"),
    Broken("[about]", '"New ramp"', '"""New\nramp"""', "about.name", "must be text on one line"),
    Broken("[about]", 'note = ""', 'note = "a\\u001bb"', "about.note", "must not hold control characters"),
    Broken(
        "[inner_leaf]",
        '"box 40x20x2"',
        '"beam 40x20x2"',
        "inner_leaf.rail_section",
        "is no section (write it like box",
    ),
    Broken(
        "[inner_leaf]",
        '"box 40x20x2"',
        '"box 40x20"',
        "inner_leaf.rail_section",
        "needs 3 sizes for a box, not 2",
    ),
    Broken(
        "[inner_leaf]",
        '"box 40x20x2"',
        '"box 40x20x10"',
        "inner_leaf.rail_section",
        "walls that meet in the middle",
    ),
    Broken(
        "[inner_leaf]",
        '"box 40x20x2"',
        '"box 40x20x2.2.2"',
        "inner_leaf.rail_section",
        "has a size that is no number",
    ),
    Broken(
        "[inner_leaf]",
        '"box 40x20x2"',
        '"box 4000x20x2"',
        "inner_leaf.rail_section",
        "has a size outside 0.5 to 1000 mm",
    ),
    Broken("[[stock]]", '"box 40x20x2"', '""', "stock[1].section", "is no section"),
]

POINTS = [
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[[0, 0, 0], [4000, 0]]",
        "site[1].ground_mm[1]",
        "must be a point: two numbers",
    ),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[[0, 0], [4000]]",
        "site[1].ground_mm[2]",
        "must be a point: two numbers",
    ),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[0, 4000]",
        "site[1].ground_mm[1]",
        "must be a point",
        also=("site[1].ground_mm[2]",),
    ),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        '[[0, 0], [4000, "0"]]',
        "site[1].ground_mm[2][2]",
        "must be a number, not text",
    ),
    Broken("[[site]]", "[[0, 0], [4000, 0]]", "[]", "site[1].ground_mm", "must have at least one point"),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[\n[0, 0],\n[4000, 0],\n[3999.9, 0]]",
        "site[1].ground_mm[3]",
        "goes back",
        line_of="[3999.9",
    ),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[[0, 0], [0, 0]]",
        "site[1].ground_mm[2]",
        "is the same as the point before",
    ),
    Broken(
        "[[site]]",
        "[[0, 0], [4000, 0]]",
        "[[0, 0], [0, 90], [0, 50]]",
        "site[1].ground_mm[3]",
        "is a third point at the same x",
    ),
]

CONTRADICTIONS = [
    Broken(
        "[outer_leaf]",
        "length_mm = 1300",
        "length_mm = 1800",
        "outer_leaf.length_mm",
        "longer than can stow: the toe would come 68 mm below the ground",
    ),
    Broken(
        "[outer_leaf]",
        "length_mm = 1300",
        "length_mm = 1600",
        "toe.length_mm",
        "longer than can stow: the toe flap, as it is carried, would come 48 mm",
        line_of="length_mm = 180",
    ),
    Broken(
        "[joint]",
        "knuckle_length_mm = 42",
        "knuckle_length_mm = 60",
        "joint.knuckle_length_mm",
        "wider than its lane",
    ),
    Broken(
        "[deck_hinge]",
        "pin_diameter_mm = 12",
        "pin_diameter_mm = 30",
        "deck_hinge.pin_diameter_mm",
        "leaves no wall in a knuckle of 30 mm",
    ),
    Broken(
        "[joint]", "pin_diameter_mm = 12", "pin_diameter_mm = 32", "joint.pin_diameter_mm", "leaves no wall"
    ),
    Broken(
        "[stop]",
        "arm_mm = 40",
        "arm_mm = 0",
        "stop.arm_mm",
        "cannot bear: a butting stop below the hinge centre",
    ),
    Broken("[stop]", "count = 3", "count = 4", "stop.count", "is more than the 3 pairs of rails"),
    Broken(
        "[inner_leaf]",
        "slat_pitch_mm = 105",
        "slat_pitch_mm = 94",
        "inner_leaf.slat_pitch_mm",
        "is less than the slat width of 95 mm",
    ),
    Broken(
        "[inner_leaf]",
        "slat_width_mm = 95",
        "slat_width_mm = 106",
        "inner_leaf.slat_pitch_mm",
        "is less than the slat width",
        line_of="slat_pitch_mm",
    ),
    Broken(
        "[inner_leaf]",
        "slat_width_mm = 95",
        "slat_width_mm = 1343",
        "inner_leaf.slat_width_mm",
        "no room for a single slat",
        also=("inner_leaf.slat_pitch_mm",),
    ),
    Broken("[outer_leaf]", "[-342, 44, 342]", "[-342, 342, 44]", "outer_leaf.rail_lanes_mm[3]", "must rise"),
    Broken(
        "[inner_leaf]",
        "[-386, 0, 386]",
        "[-386, 386, 386]",
        "inner_leaf.rail_lanes_mm[3]",
        "must rise",
        also=("outer_leaf.rail_lanes_mm", "deck_hinge.knuckle_length_mm"),
    ),
    Broken(
        "[outer_leaf]",
        "[150, 650, 1130]",
        "[150, 650, 1291]",
        "outer_leaf.cross_positions_mm[3]",
        "past the end of the leaf",
    ),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        "[200, 210, 1150]",
        "inner_leaf.cross_positions_mm[2]",
        "they overlap",
    ),
    Broken(
        "[inner_leaf]",
        "[200, 675, 1150]",
        "[12, 675, 1150]",
        "inner_leaf.cross_positions_mm[1]",
        "knuckle and the coped rail end at the deck hinge",
    ),
    Broken(
        "[outer_leaf]",
        "[150, 650, 1130]",
        "[20, 650, 1130]",
        "outer_leaf.cross_positions_mm[1]",
        "knuckle and the coped rail end at the joint",
    ),
    Broken(
        "[carrier]",
        "opening_width_mm = 1000",
        "opening_width_mm = 869",
        "inner_leaf.width_mm",
        "wider than the opening of 869 mm",
        line_of="width_mm = 860",
        also=("outer_leaf.width_mm",),
    ),
    Broken(
        "[carrier]",
        "end_depth_mm = 160",
        "end_depth_mm = 39",
        "carrier.end_depth_mm",
        "is less than the deck thickness of 40 mm",
    ),
    Broken(
        "[carrier]",
        "deck_drop_mm = 30",
        "deck_drop_mm = 420",
        "carrier.deck_drop_mm",
        "sinks the loaded deck edge into the ground",
    ),
    Broken(
        "[bridge]",
        "over_deck_mm = 80",
        "over_deck_mm = 160",
        "bridge.over_deck_mm",
        "nothing reaches the ramp",
    ),
    Broken(
        "[prop]",
        span("fitted = false", "longest_mm"),
        'fitted = true\nsection = "box 30x30x2"\nshortest_mm = 201\n',
        "prop.shortest_mm",
        "is more than the longest setting of 200 mm",
        line_of="shortest_mm",
    ),
    Broken(
        "[[site]]",
        '"Level yard"',
        '"Kerb"',
        "site[2].name",
        "is the name of row 1 too",
        line_of='name = "Kerb"  # Name\nkind = "kerb"',
    ),
    Broken(
        "[[use.user]]",
        '"Visitor in a wheelchair"',
        '"Book barrow"',
        "use.user[2].name",
        "is the name of row 1 too",
        line_of='name = "Book barrow"  # Name\nkind = "barrow"',
    ),
    Broken("[use]", '"france-vehicle"', '"us-vehicle-2016"', "use.rule_sets[2]", "is named twice"),
    Broken(
        "[made_of]",
        '"timber C24"',
        '"timber C25"',
        "made_of.slats",
        "is no known material (did you mean 'timber C24'?)",
    ),
    Broken("[[stock]]", '"steel S235"', '"mild steel"', "stock[1].material", "is no known material"),
]

ALL = [*HEADER, *SYNTAX, *UNKNOWN, *MISSING, *TYPES, *RANGES, *WORDS, *POINTS, *CONTRADICTIONS]


@pytest.mark.parametrize("broken", ALL, ids=lambda broken: f"{broken.key} {broken.new[:30]!r}")
def test_a_broken_file_is_told_with_key_line_and_rule(broken: Broken):
    with pytest.raises(FileError) as caught:
        read_design(broken.text(), "ramp.toml")
    problems = {problem.key: problem for problem in caught.value.problems}
    assert set(problems) == {broken.key, *broken.also}
    problem = problems[broken.key]
    assert broken.says in problem.text()
    assert problem.line == broken.line()
    assert "ramp.toml" in str(caught.value)
    assert problem.text() in str(caught.value)


def test_the_table_is_long_enough_and_its_ground_is_good():
    assert len(ALL) >= 60
    good = read_design(GOOD, "ramp.toml")
    assert read_design(design_text(good), "ramp.toml") == good
