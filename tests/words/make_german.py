"""Write what is still to be said in German, room by room: `python tests/words/make_german.py [ROOM ...]`.

Each `rampdraft/words/german/ROOM.json` keeps its translations in the order in which its room says them; what
is new is written with an empty translation, to be filled in; what nobody says any more is left out, but for
what the tables of data say (`tables.py`).
"""

import json
import sys

from gathered import ROOMS, ROOT, said_in
from tables import said_by_tables

if __name__ == "__main__":
    folder = ROOT / "words" / "german"
    for room in sys.argv[1:] or ROOMS:
        file = folder / f"{room}.json"
        known = json.loads(file.read_text(encoding="utf-8")) if file.exists() else {}
        in_code = said_in(room) if room in ROOMS else {}
        said = [*in_code, *(text for text in said_by_tables(room) if text not in in_code)]
        if said:
            text = json.dumps({one: known.get(one, "") for one in said}, ensure_ascii=False, indent=1)
            file.write_text(text + "\n", encoding="utf-8")
            print(room, len(said), "said,", sum(not known.get(one) for one in said), "to be translated")
