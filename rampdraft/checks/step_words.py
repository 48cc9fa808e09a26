"""What a step of the job needs next, in one line."""

from rampdraft.checks.result import Check
from rampdraft.checks.steps import BY_KEY, Need
from rampdraft.model.fields.paths import label_of, one_called


def need_words(need: Need) -> str:
    """Return what a step needs next."""
    match need:
        case Need(kind="value"):
            return f"Correct first: {label_of(need.key)}"
        case Need(kind="rows"):
            one = one_called(need.key).lower()
            return f"Add {'an' if one[0] in 'aeiou' else 'a'} {one}"
        case Need(kind="cure", check=Check() as check):
            return f"Cure next: {_of(check)}, {check.against}"
        case Need(kind="judge", check=Check() as check):
            return f"Not judged: {_of(check)}"
        case Need(kind="step", fails=0):
            return f"Nothing fails in any step. Go on to {BY_KEY[need.key].title}"
        case Need(kind="step"):
            count = f"{need.fails} fail{'s' if need.fails == 1 else ''}"
            return f"Nothing fails here. Go on to {BY_KEY[need.key].title}, where {count}"
        case _:
            return "Nothing fails in any step. Export the workshop pack"


def _of(check: Check) -> str:
    title = f"{check.title[0].lower()}{check.title[1:]}"
    return f"{title}, {check.subject}" if check.subject else title
