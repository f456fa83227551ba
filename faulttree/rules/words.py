"""The words by which rules know work, vague talk, parts of speech and the like; those of hazards: `hazard_words`.

Own short lists, in English, of what the shipped trees and their trade showed to be worth a question. None is copied
from a standard. A library in another language is not troubled by the rules that go by words, and is not helped by them.

A pattern is compiled when a text is first held against it, and a text is held against it only if the file has one of
the pattern's `words`: most trees pay for the look into a set, and no more.
"""

from __future__ import annotations

import re
from functools import cache


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern, whatever the case of the letters."""
    return re.compile(pattern, re.IGNORECASE)


@cache
def lower(pattern: str) -> re.Pattern[str]:
    """A pattern for text in lower case, which is searched much faster."""
    return re.compile(pattern)


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


NOTHING_SAID = frozenset(
    ("", "na", "n/a", "n.a", "none", "nothing", "tbd", "tbc", "todo", "tba", "xxx", "see above", "as above", "fill in")
)
"""Whole texts that say nothing, as a text without any letter or figure does."""


def says_nothing(text: str) -> bool:
    """Whether a whole text says nothing."""
    plain = text.strip(" .").lower()
    return plain in NOTHING_SAID or not any(character.isalnum() for character in plain)


UNDOES = _set("unhook undo unscrew unbolt disconnect detach dismantle unplug slacken loosen")
TAKES = _set("take lift pull draw push")
"""Takes something apart where "off" or "out" follows."""
REMOVES = _set("remove draw")
FASTENED = _set("bolt pin screw nut cover axle wheel cell fuse panel plug clip spring bolts pins screws nuts springs")
"""What is apart when it is removed."""

DISTURB_WORDS = UNDOES | TAKES | REMOVES

RESTORES = _set("""
    refit reconnect replace restore retighten reinstall tighten fit close shut reassemble stow hook
""")
"""Verbs that put back what was taken apart."""
PUTS = _set("put screw bolt connect plug set push slide hang lay turn")
"""Puts it back where one of `BACK` follows."""
BACK = _set("back again on in home")

IN_USE = _set("cot patient litter stretcher hand foot weight ballast mattress")
"""What is taken out or off in the course of use, and leaves nothing loose."""


FITS = _set("change exchange fit install refit reinstall renew replace swap")
"""Verbs of which the object is a part that is fitted."""
USES = FITS | _set("""
    apply clean dry grease lubricate mark oil paint put rinse smear spray tape treat use wash wipe
""")
"""Verbs that go with a consumable."""

VAGUE_WORDS = _set("""
    properly correctly adequate adequately sufficient sufficiently appropriate appropriately suitable suitably
    reasonable reasonably normal normally excessive excessively regularly periodically somewhat roughly
    approximately various several satisfactory satisfactorily acceptable acceptably etc carefully
""")
"""Words that leave it to the reader to decide what is meant."""

VAGUE_PHRASES = (
    "in good condition", "in good order", "as required", "as necessary", "as needed", "if required", "if necessary",
    "if needed", "if possible", "too much", "too little", "too hard", "too tight", "too loose", "some kind of",
    "more or less",
)  # fmt: skip
"""The same, of several words."""

NO_OBSERVATION = _set("""
    ok okay bad faulty defective serviceable unserviceable airworthy unsafe probably perhaps maybe possibly seems
    suspect suspected presumably need needs must should problem failure acceptable unacceptable abnormal
""")
"""Words of a label that judges or guesses, where it should say what is seen."""

ORDERS = _set("replace adjust repair renew tighten lubricate remove order check see")
"""First words of a label that tells what to do."""
ORDERS_ALSO_NOUNS = _set("check order repair")
NAMED_BY_AN_ORDER = _set("valve nut strap chain")
"""Things that are called so, as a check valve is."""

DUTY = frozenset(("should", "must", "shall"))
DUTY_WITH_TO = frozenset(("has", "have", "need", "needs", "is", "are"))
PARTICIPLES = _set("""
    cut set put hung held kept taken drawn made done shown driven torn bent worn thrown swung shut let
""")
"""Participles that do not end in "ed"."""
PERSONS = frozenset(("mechanic", "crew", "operator", "user", "technician"))

MODAL_PIECES = (
    "should", "must", "shall", "please", " to be ", "you ", "has to ", "have to ", "needs to ", "need to ", " will ",
)  # fmt: skip
"""Without one of these nothing is told in another form than the imperative."""

VERBS = _set("""
    add adjust air answer apply ask bend bleed bring brief buff carry chalk change check clamp clean clear close
    coil compare connect count cut cycle disconnect disinfect do drain draw drive dry empty fasten feel fill
    find fit flatten fly fold free grease hang hold hook inspect install keep latch lay leave let lift listen
    load lock lockwire look loosen lower lubricate make mark mask measure move note open operate order paint
    park phone place press pull push put raise read record release remove renew repeat replace report return
    rinse rock roll rotate route run scrape screw search seat see send set shake shine show shut slacken slide
    smear spin spray squeeze stand start stay stick stop stow straighten support swing switch take tell test
    tether tie tighten torque tuck turn undo unhook unload unscrew unstrap use wash watch wear weigh wipe work
    write
""")
"""Verbs of instructions, in their plain form."""

ALSO_NOUNS = _set("""
    air cut drive drop feel fit hook lift load lock look mark measure place press pull push release return
    search seat set show stand start stop support swing switch test torque turn wash wear wipe work clamp chalk
    cycle grease coil paint phone point record report route screw spray
""")
"""Verbs that are as often nouns."""

STATE_VERBS = _set("""
    sit sits stands stays holds runs moves slips goes comes drags falls hangs lies needs shows begins stops
    pushes touches looks feels gets gives makes locks opens shuts fits rubs turns
""")
"""Forms of verbs that end a row of nouns."""

AT_THE_SAME_TIME = _set("""
    hold keep watch listen look see feel let leave stay wear support
""")
"""What is done while something else is done."""

TOLD_AFTER = VERBS - AT_THE_SAME_TIME
"""Verbs that, as a second one, are a second instruction."""

QUANTITIES = _set("""
    torque pressure voltage current power force pull load weight mass gap length width depth height thickness diameter
    distance clearance play travel speed temperature time angle stroke value reading tension
""")
"""Nouns behind which a number is no name but so much of something."""
MEASURES = _set("""
    weighs measures reads shows gives holds needs takes lasts equals exceeds reaches carries makes stays wait waits
    adds turns
""")
"""Verbs, beside those of instructions, behind which a number is so much of something."""

FUNCTION_WORDS = _set("""
    a an the this that these those its his her their your our my one two three four five six seven eight nine
    ten each every both all any no some other another and or but nor of in on at to from by with without for
    into onto over under above below behind before after until through across along round around between against
    near beside toward towards off out up down aft forward back if when while where as than then so which who
    whose what how why because whether is are was were be been being has have had do does did may can must
    should will would not never only also once twice again still yet too very cannot although past during unless
    via more most less least it he she they them you i we us itself there here now first last next same such few
    many much own out-of per like up-to just even always neither either
""")
"""Words that end a run of nouns."""
PREPOSITIONS = _set("""
    of in on at to from by with without for into onto over under above below behind before after until through across
    along round around between against near beside toward towards past during via per
""")
"""What follows is not what is changed or used; "out" and "up" stand behind a verb as well: "Swap out the cell"."""

PLAIN_ADJECTIVES = _set("""
    new old good bad left right upper lower inner outer front rear whole full empty clean dry free loose tight
    open shut long short high low large small same first last main spare clear firm flat soft hard hot cold
    given early late fresh safe ready flush square straight other correct wrong trained different fine local
""")
"""Adjectives that end a row of nouns."""

NO_NOUN_ENDINGS = (
    r"(?:ly|ed|ous|ful|able|ible|ive|less|\w{3}est)$|(?<!spr)(?<!str)(?<!\br)(?<!ar)(?<!us)(?<!as)(?<!itt)(?<!ub)ing$"
)
"""Endings of words that are seldom nouns; springs, rings, bearings, housings, casings, fittings and tubing are."""
