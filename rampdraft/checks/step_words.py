"""What a step of the job needs next, in one line."""

from rampdraft.checks.result import Check
from rampdraft.checks.steps import BY_KEY, Need
from rampdraft.model.fields.paths import label_of, one_called


def need_words(need: Need) -> str:
    """Return what a step needs next."""
    if need.check is not None:
        title = f"{_of(need.check)}, {need.check.against}"
        return f"Cure next: {title}" if need.kind == "cure" else f"Not judged: {_of(need.check)}"
    if need.kind == "value":
        return f"Correct first: {label_of(need.key)}"
    if need.kind == "rows":
        one = one_called(need.key).lower()
        return f"Add {'an' if one[0] in 'aeiou' else 'a'} {one}"
    return _onward(need)


def _onward(need: Need) -> str:
    if need.kind == "pack":
        return "Nothing fails in any step. Export the workshop pack"
    title = BY_KEY[need.key].title
    if not need.fails:
        return f"Nothing fails in any step. Go on to {title}"
    return f"Nothing fails here. Go on to {title}, where {need.fails} fail{'s' if need.fails == 1 else ''}"


def _of(check: Check) -> str:
    title = f"{check.title[0].lower()}{check.title[1:]}"
    return f"{title}, {check.subject}" if check.subject else title
