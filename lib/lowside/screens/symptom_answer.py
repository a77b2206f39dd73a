"""What the symptom page answers: suspects, what speaks against them, what to do next, in HTML."""

from __future__ import annotations

import html
from dataclasses import dataclass

from lowside import diagnosis, faults, flammability
from lowside.diagnosis import evidence, looks, words
from lowside.screens.sheet import SHEET, listed, paragraph

STYLE = """<style>
.lowside .lowside-stays { position:sticky; top:0; z-index:3; overflow:visible; flex:0 0 auto; }
.lowside .lowside-headline { margin:0 0 8px; padding:8px 12px;
  background:#fff; border:2px solid var(--ls-ink); border-radius:6px; font-size:15px; }
.lowside-headline p { margin:2px 0; }
.lowside .lowside-suspects { list-style:none; margin:6px 0; padding:0; }
.lowside .lowside-suspects li { display:grid; grid-template-columns:1fr auto; gap:1px 10px;
  margin:0; padding:5px 0 6px; border-bottom:1px solid var(--ls-rule); }
.lowside-suspects b { font-variant-numeric:tabular-nums; white-space:nowrap; }
.lowside-suspects .lowside-track { grid-column:1/3; height:14px; border:1px solid var(--ls-muted);
  border-radius:3px; background:#fff; box-sizing:border-box; }
.lowside-suspects .lowside-bar { display:block; height:100%; background:var(--ls-low);
  -webkit-print-color-adjust:exact; print-color-adjust:exact; }
.lowside-suspects small { grid-column:1/3; }
.lowside-suspects small, .lowside-next small, .lowside-care { color:#4a5560; }
.lowside-care { font-size:12.5px; line-height:1.35; }
.lowside .lowside-against td, .lowside .lowside-against th { padding-right:12px; }
.lowside-wide { overflow-x:auto; }
.lowside-against .lowside-no { font-weight:700; }
.lowside-next li { margin:6px 0; }
.lowside-ask .widget-label { white-space:normal; height:auto; line-height:1.3; text-align:left;
  width:100%; }
.lowside .lowside-ask .widget-toggle-buttons { display:block; }
.lowside .lowside-ask { display:block !important; height:auto !important; }
.lowside .lowside-ask button { min-height:36px; min-width:54px; padding:4px 9px;
  margin:2px 4px 2px 0; }
.lowside .lowside-symptom-form textarea { font-size:14px; min-height:60px; }
.lowside .lowside-folds { margin:0 0 8px; }
.lowside .lowside-folds, .lowside .lowside-folds * { min-width:0; }
.lowside .lowside-folds .jupyter-widget-Collapse-header { background:#fff; color:var(--ls-ink);
  min-height:30px; line-height:30px; padding:0 8px; }
.lowside .lowside-folds .jupyter-widget-Collapse-contents { padding:2px 8px 8px; font-size:14px;
  border-color:var(--ls-rule); }
.lowside-folds .lowside-control { margin:6px 0 0 !important; }
@container (max-width:755px) {
  .lowside .lowside-headline { padding:3px 8px; font-size:13px; line-height:1.3; }
  .lowside .lowside-ask button { min-height:44px; }
  .lowside .lowside-symptom-form input { height:42px; font-size:16px; }
  .lowside .lowside-symptom-form select { height:42px; font-size:16px; } }
.lowside-page { font-family:Verdana, "DejaVu Sans", sans-serif; font-size:14px; }
.lowside-page h1 { font-size:22px; } .lowside-page h2 { font-size:17px; }
@media print { .lowside .lowside-stays { position:static; } }
</style>"""

ROWS, HELD = 6, 3
LEAST = 0.005
EXPECTED = "What each of the first suspects expects, the other readings being as they are"
_MARKS = {"fits": "", "doubtful": "~ ", "against": "✗ "}
_LOOKS = {look.key: look for look in (*looks.ALL, looks.BUBBLES)}


@dataclass(frozen=True)
class Answer:
    """An answer as the page shows it.

    Attributes
    ----------
    headline, body, against : str
        HTML: where things stand; suspects and next steps; every reading against the first suspects.
    plain : str
        The same as text.
    note : tuple of str
        For the work order.
    mistaken : bool
        Whether a reading has to be taken again before all else.
    """

    headline: str
    body: str
    against: str
    plain: str
    note: tuple
    mistaken: bool


def answer(known, screened, seen, place, show, own_words=""):
    """Rank, weigh, and write it all down.

    Parameters
    ----------
    known : lesson.l52_boxes.Known
        The box on its day.
    screened : diagnosis.sense.Screened
        What was read.
    seen : dict of str to bool
        Looks answered.
    place : str
        Which box.
    show : Readout
        The reader's units.
    own_words : str
        The technician's note.

    Returns
    -------
    Answer
    """
    ranking = diagnosis.rank(known.suspects, screened.taken, seen)
    steps = diagnosis.next_steps(ranking)
    wrong = [show.explain(error) for error in screened.refused]
    wrong += [finding.sentence(show) for finding in screened.impossible]
    unusual = [finding.sentence(show) for finding in screened.doubtful]
    doubts = [f"Cannot be: {sentence}" for sentence in wrong]
    note = words.order_note(ranking, steps, place, show, own_words, doubts)
    verdict = words.verdict(ranking, show)
    told = _next(ranking, steps, show)
    head = ["Read again before anything else: see below."]
    if not wrong:
        head = [verdict, f"Next: {told[0][0]}"]
    pairs = words.two_at_once(ranking, show) if ranking.strange else []
    together = _together(ranking, known.alike)
    body = "".join(paragraph(line, "alert", "alert") for line in doubts)
    body += paragraph(f"As the readings stand: {verdict}", "note") if wrong else ""
    if ranking.strange:
        body += paragraph(
            "The bars compare the suspects with each other; not one of them fits.", "note"
        )
    body += _bars(ranking, show)
    body += listed("More than one fault?", pairs)
    body += _danger(known.suspects.situation.box.refrigerant)
    body += _steps(told)
    body += listed("What no instrument parts", together)
    body += listed("Unusual, worth a second look", unusual)
    body += _stops(ranking)
    headline = "".join(paragraph(line, "line") for line in head)
    plain = [*head, *doubts]
    plain += [f"  {name}: {chance}" for name, chance, _ in _standing(ranking, show)]
    plain += pairs + [f"  Next: {line}" for line, _ in told] + together
    return Answer(
        headline, body, _against(ranking, show), "\n".join(plain), tuple(note), bool(wrong)
    )


def exported(answer, place, read, show):
    """Write a page of its own, to save, print or send.

    Parameters
    ----------
    answer : Answer
    place : str
        Which box.
    read : sequence of (str, str)
        What was read and seen, in the reader's units.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        HTML with its style; prints from any browser.
    """
    rows = "".join(
        f"<tr><td>{html.escape(what)}</td><td>{html.escape(value)}</td></tr>"
        for what, value in read
    )
    noted = "".join(paragraph(line, "call") for line in answer.note)
    return (
        f'{SHEET}{STYLE}<div class="lowside lowside-plain lowside-page"><h1>A strange symptom</h1>'
        f"<p><b>{html.escape(place)}</b></p>"
        f'<div class="lowside-caution"><b>Caution</b><p>{html.escape(words.ESTIMATE)}</p></div>'
        f"<h2>For the work order</h2>{noted}"
        f'<h2>What was read</h2><table class="lowside-table">{rows}</table>'
        f"<h2>What it points to</h2>{answer.body}{answer.against}</div>"
    )


def _standing(ranking, show):
    """Names, chances and how bad, of the suspects worth a line."""
    for key, chance in list(ranking.probability.items())[:ROWS]:
        if chance >= LEAST:
            yield words.name(key), words.chance(show, chance), words.severity(ranking, key, show)


def _bars(ranking, show):
    rows, told, count = "", 0.0, 0
    chances = list(ranking.probability.values())
    for name, chance, bad in _standing(ranking, show):
        rows += _row(name, chances[count], chance, bad)
        told, count = told + chances[count], count + 1
    if 1.0 - told >= LEAST:
        rest = f"all {len(chances) - count} others together"
        rows += _row(rest, 1.0 - told, words.chance(show, 1.0 - told), "")
    if not ranking.taken or ranking.strange:
        return f'<ol class="lowside-suspects">{rows}</ol>'
    said = (
        f"How well the first one fits: of all boxes with it, {show.text(ranking.fit, 'ratio')} "
        "would fit less well than yours."
    )
    return f'<ol class="lowside-suspects">{rows}</ol>{paragraph(said, "words")}'


def _row(name, share, chance, bad):
    small = f"<small>If so, {html.escape(bad)}</small>" if bad else ""
    width = max(100.0 * share, 0.7)
    return (
        f"<li><span>{html.escape(name)}</span><b>{html.escape(chance)}</b>"
        f'<span class="lowside-track"><span class="lowside-bar" style="width:{width:.1f}%">'
        f"</span></span>{small}</li>"
    )


def _next(ranking, steps, show):
    """Sentences on the next steps, each with its caution."""
    if ranking.strange:
        return _again(ranking)
    if words.settled(ranking):
        key = next(iter(ranking.probability))
        if key == diagnosis.NOTHING_WRONG:
            return [("nothing points to a fault: ask about load, doors and weather.", "")]
        fault = faults.get(key)
        opened = "opens the sealed system" if fault.opens else "opens nothing"
        line = f"prove it, then: {fault.cure} About {fault.minutes:g} minutes, {opened}."
        return [(line, words.ESTIMATE)]
    told = []
    for step in steps[:HELD]:
        opened = "costs a little refrigerant" if step.opens else "opens nothing"
        worth = words.worth(ranking, step).capitalize()
        line = f"{words.asked(step)} {worth}; {step.minutes:g} minutes, {opened}."
        told.append((line, step.caution))
    return told


def _danger(refrigerant):
    """Put the cautions of a flammable refrigerant where the hand is about to act."""
    if not refrigerant.facts.is_flammable:
        return ""
    lead = f"{refrigerant.name} burns. Meter to the floor before anything else."
    said = " ".join((lead, *flammability.CAUTIONS[1:]))
    return f'<div class="lowside-caution"><b>Caution</b> {html.escape(said)}</div>'


def _again(ranking):
    """Name the readings that speak most against the first suspect."""
    key = next(iter(ranking.probability))
    found = sorted(diagnosis.expectations(ranking, key), key=lambda each: -abs(each.off))
    labels = [evidence.get(each.key).label for each in found[:2]]
    return [(f"take again what {words.name(key)} explains worst: {' and '.join(labels)}.", "")]


def _steps(told):
    items = "".join(
        f"<li>{html.escape(line[0].upper() + line[1:])}"
        + (f"<br><small>Caution: {html.escape(caution)}</small>" if caution else "")
        + "</li>"
        for line, caution in told
    )
    return f'<div class="lowside-list lowside-next"><b>Do next</b><ol>{items}</ol></div>'


def _together(ranking, alike):
    """Say which of the leading suspects every instrument leaves together, and what parts them."""
    lines, done = [], set()
    leading = [key for key, p in ranking.probability.items() if p >= words.POSSIBLE]
    for key in leading:
        group = [other for other in leading if other in alike[key]]
        if len(group) < 2 or key in done:
            continue
        done |= set(group)
        shown = [
            look.question.removesuffix("?")
            for look in looks.fitting(ranking.suspects.situation.family)
            if look.key not in ranking.seen and 0 < len(look.shows & set(group)) < len(group)
        ]
        names = [words.name(other) for other in group]
        line = f"{', '.join(names[:-1])} and {names[-1]} read alike on every gauge and clamp."
        if shown:
            line += f" What may part them: {'; '.join(shown[:HELD])}."
        lines.append(line[0].upper() + line[1:])
    return lines


def _against(ranking, show):
    """Hold the readings against the first suspects, as a table."""
    first = [key for key, p in ranking.probability.items() if p >= LEAST][:HELD]
    if not ranking.taken:
        return ""
    held = {key: diagnosis.expectations(ranking, key) for key in first}
    heads = "".join(f'<th scope="col">{html.escape(words.name(key))}</th>' for key in first)
    rows = ""
    for place, (name, value) in enumerate(ranking.taken.items()):
        what = evidence.get(name)
        cells = ""
        for key in first:
            found = held[key][place]
            text = _MARKS[found.verdict] + show.text(found.expected, what.kind)
            bold = ' class="lowside-no"' if found.verdict == "against" else ""
            cells += f"<td{bold}>{html.escape(text)}</td>"
        rows += (
            f"<tr><td>{html.escape(what.label)}</td>"
            f"<td>{html.escape(show.text(value, what.kind))}</td>{cells}</tr>"
        )
    legend = "✗ speaks against this suspect, ~ is doubtful, the rest fits."
    table = (
        '<div class="lowside-wide"><table class="lowside-table lowside-against"><tr>'
        f'<th scope="col">reading</th><th scope="col">read</th>{heads}</tr>{rows}</table></div>'
    )
    return paragraph(f"{EXPECTED}.", "words") + table + paragraph(legend, "words")


def _stops(ranking):
    """Name the suspects at whose worst the box would not run at all."""
    stops = [
        f"{words.name(key)}: {how}"
        for key, how in ranking.suspects.stops.items()
        if ranking.probability[key] >= words.POSSIBLE
    ]
    return listed("If it were worse still, this box would stop", stops)
