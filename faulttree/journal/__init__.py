"""Walks as journals: one file a walk, one JSON line a move, on the disk before the next prompt is shown.

The journal is the record of a walk. Its first line says which walk it is; each further line holds one move,
when it was made and how the walk stood after it, so that a listing needs no replay. A line carries the digest
of the line before it and its own: edits, removals in the middle and reordering show. A cut tail or a journal
rewritten from the start does not, so reports print `Journal.head`: the record is tamper-evident, not tamper-proof.

Beside the journals, ``copies`` keeps by digest the exact files of the library that walks went by, so that a walk
is taken up again on exactly those, whatever became of the library since.

No patient data belongs in a journal. Nothing here can tell what a note says: whoever asks for a text says so
where it is asked for.
"""

from faulttree.journal.lines import Entry, Facts, Header, move_from_json, move_to_json
from faulttree.journal.listing import Summary, find_journal, summaries
from faulttree.journal.names import default_folder
from faulttree.journal.recorded import Recorded, read_journal
from faulttree.journal.replaying import replay
from faulttree.journal.store import Journal, create, open_journal

__all__ = [
    "Entry",
    "Facts",
    "Header",
    "Journal",
    "Recorded",
    "Summary",
    "create",
    "default_folder",
    "find_journal",
    "move_from_json",
    "move_to_json",
    "open_journal",
    "read_journal",
    "replay",
    "summaries",
]
