"""What of a picture lies on its words, by a general library: shapely."""

import itertools

from shapely import STRtree
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box

from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.drawing.letters import MM_PER_PT, words_mm
from rampdraft.geometry.outline import Outline

FAINT = ("swept", "ghost", "own")
"""Pens of lines that are as good as not there: words may lie on them."""


def words_box(label: Label, per_mm: float) -> Polygon:
    """Return the room that words take."""
    wide, tall = words_mm(label.text, label.size_pt) * per_mm, 0.7 * label.size_pt * MM_PER_PT * per_mm
    left = label.at[0] - {"left": 0.0, "centre": wide / 2, "right": wide}[label.anchor]
    low = label.at[1] - (tall / 2 if label.boxed else 0.0)
    return rotate(box(left, low, left + wide, low + tall), label.angle_deg, origin=label.at)


def line_of(path: Path, per_mm: float) -> LineString:
    vertices = path.vertices
    if path.closed and any(bulge for _, _, bulge in vertices):
        points = list(Outline(vertices).points(0.05 * per_mm))
    else:
        points = [(x, y) for x, y, _ in vertices]
    return LineString([*points, *(points[:1] if path.closed else ())])


def on_each_other(picture: Picture, per_mm: float) -> list[tuple[str, str]]:
    """Return labels that lie on each other, and those that a line goes through."""
    labels = [mark for mark in picture.marks if isinstance(mark, Label) and mark.text]
    rooms = [words_box(label, per_mm) for label in labels]
    found = [
        (labels[a].text, labels[b].text)
        for a, b in itertools.combinations(range(len(labels)), 2)
        if rooms[a].intersection(rooms[b]).area > 1e-3 * per_mm**2
    ]
    paths = [
        mark
        for mark in picture.marks
        if isinstance(mark, Path) and len(mark.vertices) > 1 and mark.pen not in FAINT
    ]
    lines = [line_of(path, per_mm) for path in paths]
    tree = STRtree(lines)
    for label, room in zip(labels, rooms, strict=True):
        for number in tree.query(room, predicate="intersects"):
            if lines[number].intersection(room).length > 1e-3 * per_mm:
                found.append((label.text, paths[number].owner or paths[number].pen))
    return found
