"""Ink as plain text, for goldens of meaning, and a few ways to look into a picture."""

from rampdraft.drawing.ink import Ink, Label, Path, Picture


def as_text(marks: tuple[Ink, ...]) -> str:
    """Return one line a mark: what it is, its look, its owner, its points to a tenth."""
    return "\n".join(_line(mark) for mark in marks)


def _line(mark: Ink) -> str:
    owner = f" <{mark.owner}>" if mark.owner else ""
    if isinstance(mark, Label):
        turned = f" at {_n(mark.angle_deg)}°" if mark.angle_deg else ""
        return f"text '{mark.text}' {mark.anchor} ({_n(mark.at[0])}, {_n(mark.at[1])}){turned}{owner}"
    ends = "closed" if mark.closed else "open"
    fill = "" if mark.fill == "none" else f" on {mark.fill}"
    points = " ".join(
        f"({_n(x)}, {_n(y)}{f' bulge {_n(bulge)}' if bulge else ''})" for x, y, bulge in mark.vertices
    )
    return f"{ends} {mark.pen}{fill}{owner} {points}"


def _n(value: float) -> str:
    text = f"{value:.1f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def texts(picture: Picture) -> list[str]:
    return [mark.text for mark in picture.marks if isinstance(mark, Label)]


def paths_of(picture: Picture, owner: str) -> list[Path]:
    return [mark for mark in picture.marks if isinstance(mark, Path) and mark.owner == owner]


def owners(picture: Picture) -> set[str]:
    return {mark.owner for mark in picture.marks if isinstance(mark, Path) and mark.owner}
