"""What people call a piece at the bench, to be called across it: what it is, then where, then which."""

from collections.abc import Iterable

from rampdraft.geometry.members.member import Member
from rampdraft.words.say import say


def spoken(member: Member) -> str:
    """Return the name of a member as it is said: `rail, inner, 1`; `cross member, outer, 2, bay 1`.

    It is made of the same words as the short number beside it (`shop.parts.part_number`), and stays put as
    that does.
    """
    tag, role = member.tag, member.role
    words = tag.words(role)
    said = role.split()
    place = tuple(str(word) for word in words if isinstance(word, str) and word not in said)
    where = tuple(word for word in place if word not in ("bay", tag.hand))
    number = (str(tag.number),) if tag.number else ()
    bay = say(", bay {number}", number=tag.bay) if tag.bay else ""
    return _placed(role, (*where, *number)) + bay + (_comma(tag.hand) if tag.hand else "")


def code_words(code: str) -> str:
    """Return a part code (`shop.parts.part_code`) for people to read."""
    role, *places = code.split(", ")
    return _placed(role, places)


def _placed(role: str, places: Iterable[str]) -> str:
    return "".join((say(role), *map(_comma, places)))


def _comma(place: str) -> str:
    """Return where or which, behind a comma: words here stand alone, as `inner` for what is on that leaf."""
    return f", {place}" if place.isdigit() else f", {say(place, 'bench')}"
