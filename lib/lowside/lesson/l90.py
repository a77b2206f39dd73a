"""Lesson 90: how far to trust it."""

from __future__ import annotations

from lowside import checks

from . import l90_numbers, l90_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source


def _within_a_tenth():
    share = l90_numbers.within(l90_numbers.TENTH) / len(checks.everything())
    return l90_numbers.share_word(share)


def _from_outside():
    return l90_numbers.share_word(l90_numbers.independent() / len(checks.everything()))


_SHARES = {
    "few": "fewer than a quarter",
    "some": "between a quarter and three quarters",
    "most": "more than three quarters",
}

CALL = (
    "The insurer of Lantern Row Market Hall sends an engineer. {notice}\n\n"
    "She has the tag of a propane cabinet in her hand, with a superheat, a charge in grams and a "
    "leak that stays below what burns. She is friendly, and asks one thing: “Why should I believe "
    "you?”\n\n"
    "You could say: the program said so. She would write that down. Or you open this page."
)

READINGS = (
    ("Published values beside ours", "{all}"),
    ("Within their tolerance", "{passing}"),
    ("Read in the document", "{read}"),
    ("Quoted from memory", "{memory}"),
    ("Computed with a reference library", "{computed}"),
    ("Common practice, no source", "{practice}"),
)

LESSON = Lesson(
    number="90",
    title="How far to trust it",
    goals=(
        "find for a number of these lessons what it was compared with, and how well it agreed",
        "read a parity plot, and see what it hides",
        "tell evidence from outside from agreement that proves little",
        "say plainly what nobody has checked",
    ),
    minutes=30,
    before=("10",),
    cautions=(
        "A check that passes makes no box safe. Nameplate, the maker's instructions, local code "
        "and your own meter come before any number here.",
        "Flammable refrigerant: a limit from this page never replaces ventilation, a leak detector "
        "and the absence of sparks.",
        "Nothing on this page is a reason to open, cut or charge anything.",
    ),
    call=CALL,
    readings=READINGS,
    predictions=(
        Prediction(
            key="tenth",
            question=(
                "All {passing} of {all} lie within their tolerance. Leave each only {tenth} of its "
                "room. How many still do?"
            ),
            options=_SHARES,
            outcome=_within_a_tenth,
            because=(
                "{within_tenth} of {all}. A tolerance follows the digits of the print and the age "
                "of its tables; narrower, it would test the book."
            ),
        ),
        Prediction(
            key="outside",
            question=(
                "How many of the {all} compare a number that we compute with a document that "
                "somebody has read?"
            ),
            options=_SHARES,
            outcome=_from_outside,
            because=(
                "{independent} of {all}. {memory} are quoted from memory, {computed} come from a "
                "library, and {copied} are of topics whose numbers were taken over from the source."
            ),
        ),
    ),
    notes={
        "count": (
            "{all} published values in {topics} topics. {read} were read in the document or in a "
            "public copy, {memory} are from memory, {computed} from a reference library, "
            "{practice} are common practice with no published source. The one that uses up most "
            "of its tolerance, {farthest}, belongs to: {farthest_topic}."
        ),
        "copied": (
            f"Taken over from the source: {', '.join(checks.copied())}. There, agreement shows "
            "only that we copied right."
        ),
        "never": l90_numbers.never(),
        "disputes": l90_numbers.disputes(),
    },
    try_this=(
        "Narrow the tolerances to {tenth}. Which topics hold, and is it because they are good or "
        "because they were copied?",
        "Show only what was read. Which topics become empty?",
        "Show only common practice. On which side of the line do its dots stand?",
    ),
    tasks=l90_tasks.ALL,
    card=JobCard(
        title="Before you build on a number",
        tools=(
            "The tag, the nameplate, the maker's instructions",
            "The printed table or chart that you would defend",
            "Your own instruments, and the date they were last compared",
        ),
        cautions=(
            "Where a wrong number can hurt someone, take the nameplate and the law, not a model.",
            "A limit for a flammable gas is not a target. Stay well below, and measure.",
            "No agreement on paper replaces lock-out, gloves, glasses and a leak test.",
        ),
        steps=(
            "Ask what the number was compared with. If nothing: write “model” beside it.",
            "Was the source read, or only remembered? Look it up if it matters.",
            "Same origin on both sides? Then agreement proves nothing.",
            "How wide was the tolerance, and why? What is it worth in degrees or grams?",
            "Do all differences lean one way? Then correct for it, or find out why.",
            "Were the conditions those of your box: refrigerant, pressures, valve or tube?",
            "Where sources disagree, take the safer one, and write down both.",
            "Measure once yourself. Your reading with its error is evidence too.",
            "Put number, source and error on the tag.",
        ),
        notice="Order of these questions: common practice, no published source.",
    ),
    sources=(
        Source("Every published value", "data/checks, each with its own source", OURS),
        Source("Values quoted without the document", "marked so in every row", MEMORY),
        Source("Values seen in a document or a public copy", "marked so in every row", READ),
        Source("Habits of the trade", "marked so in every row", PRACTICE),
        Source("Our values", "computed by lowside when this page runs", OURS),
        Source("The call", "invented", OURS),
    ),
    leaves_out=(
        "Further comparisons stand beside single tests and are not on this page: void fractions, "
        "heat transfer, capillary tubes, water in driers, whole boxes.",
        "Books were read in open transcriptions of their examples; those can have typing errors.",
        "A tolerance is our own judgement of the print. It is no standard deviation, and dots are "
        "not independent of each other.",
        "That the parts agree does not prove the whole box. For that see what was never checked.",
    ),
    next=None,
    quantities=l90_numbers.quantities,
)
