"""What people call a piece at the bench, to be called across it: what it is, then where, then which."""

from rampdraft.geometry.members.member import Member


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
    bay = (f"bay {tag.bay}",) if tag.bay else ()
    hand = (tag.hand,) if tag.hand else ()
    return ", ".join((role, *where, *number, *bay, *hand))
