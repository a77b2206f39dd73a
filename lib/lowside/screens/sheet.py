"""The one style sheet of the screens, and small pieces of HTML that wear it."""

from __future__ import annotations

import base64
import html

from lowside.plots import style

SHEET = f"""<style>
.lowside {{ --ls-ink:{style.INK}; --ls-muted:{style.MUTED}; --ls-rule:{style.RULE};
  --ls-haze:{style.HAZE}; --ls-high:{style.HIGH}; --ls-good:{style.GOOD}; --ls-low:{style.LOW};
  color:var(--ls-ink); background:#fff; border:1px solid var(--ls-rule); border-radius:8px;
  padding:12px 14px; margin:4px 0; max-width:1120px; box-sizing:border-box;
  --jp-widgets-color:{style.INK}; --jp-widgets-label-color:{style.INK};
  --jp-widgets-font-size:14px; --jp-widgets-input-background-color:#fff;
  --jp-widgets-input-color:{style.INK}; --jp-widgets-input-border-color:{style.MUTED};
  --jp-widgets-slider-active-handle-color:{style.LOW}; --jp-ui-font-color1:{style.INK}; }}
.lowside .widget-html-content {{ line-height:1.45; font-size:14px; color:var(--ls-ink); }}
.lowside-panel {{ container-type:inline-size; }}
.lowside-row {{ gap:10px 26px; align-items:flex-start; }}
.lowside-controls {{ gap:10px; }}
.lowside-controls, .lowside-control, .lowside-control > * {{ overflow:visible !important; }}
.lowside-entry {{ height:auto !important; align-items:center !important;
  justify-content:space-between; gap:8px; }}
.lowside .lowside-entry label {{ text-align:left; white-space:normal; line-height:1.25;
  flex:1 1 auto; height:auto; }}
.lowside .lowside-entry input {{ flex:0 0 6.6em; width:6.6em; text-align:right; font-size:14px;
  font-variant-numeric:tabular-nums; border-radius:4px; }}
.lowside .lowside-typed input {{ flex-basis:8.6em; width:8.6em; }}
.lowside .lowside-line input {{ flex:1 1 12em; width:12em; text-align:left; }}
.lowside .lowside-choice {{ display:block !important; height:auto !important; }}
.lowside .lowside-choice > label, .lowside .lowside-choice > .widget-label {{ display:block;
  text-align:left; height:auto; line-height:1.35; }}
.lowside select {{ font-size:14px; height:32px; border-radius:4px; }}
.lowside .lowside-choice select {{ width:100%; }}
.lowside .lowside-choice .widget-radio-box {{ padding:0; margin:0; }}
.lowside .lowside-choice .widget-radio-box label {{ line-height:1.35; height:auto; width:auto;
  white-space:normal; margin:3px 0; font-size:14px; display:flex; gap:6px;
  flex-direction:row-reverse; justify-content:flex-end; align-items:center; }}
.lowside .widget-radio-box input {{ margin:0; position:static; }}
.lowside .widget-slider {{ margin:2px 8px 0 !important; }}
.lowside .noUi-target {{ background:var(--ls-rule); border:0; }}
.lowside .noUi-handle {{ width:18px !important; height:18px !important; top:-7px !important;
  background:#fff; border:3px solid var(--ls-low) !important; border-radius:50%;
  box-shadow:none; }}
.lowside button, .lowside .jupyter-button {{ border-radius:5px; font-size:14px; height:auto;
  min-height:30px; line-height:1.3; padding:4px 12px; white-space:normal; width:auto;
  border:1px solid var(--ls-muted); background:#fff; color:var(--ls-ink); }}
.lowside .jupyter-button.mod-active, .lowside .jupyter-button.mod-primary {{
  background:var(--ls-low); color:#fff; border-color:var(--ls-low); box-shadow:none; }}
.lowside .jupyter-button:focus-visible, .lowside input:focus-visible,
.lowside select:focus-visible, .lowside .noUi-handle:focus-visible {{
  outline:3px solid var(--ls-low) !important; outline-offset:2px; }}
.lowside .lowside-bad input {{ border:2px solid var(--ls-high); }}
.lowside-title {{ font-weight:600; font-size:16px; }}
.lowside .lowside-figure > .widget-html-content {{ overflow-x:auto; }}
.lowside-stale svg, .lowside-stale dl {{ opacity:.3; }}
.lowside .lowside-strip {{ display:grid; grid-template-columns:repeat(auto-fit,minmax(104px,1fr));
  gap:6px; margin:4px 0 2px; padding:0; }}
.lowside-strip > div {{ border:1px solid var(--ls-rule); border-radius:6px;
  background:var(--ls-haze); padding:4px 7px 5px; }}
.lowside .lowside-strip dt, .lowside .lowside-strip dd {{ float:none; clear:none; display:block;
  width:auto; margin:0; padding:0; background:none; }}
.lowside .lowside-strip dt {{ font-size:12px; color:#4a5560; font-weight:400; }}
.lowside .lowside-strip dd {{ font-size:15px; font-weight:600; font-variant-numeric:tabular-nums;
  white-space:normal; overflow-wrap:anywhere; }}
.lowside-lead {{ margin:8px 0 2px; font-size:13px; color:var(--ls-muted); }}
.lowside-why {{ margin:8px 0 4px; min-height:2.9em; }}
.lowside-words {{ margin:6px 0 0; color:#4a5560; font-size:13px; }}
.lowside-alert {{ box-sizing:border-box; margin:4px 0; padding:6px 10px;
  border-left:4px solid var(--ls-high); background:#fdf3ee; color:#7a2c07; white-space:normal; }}
.lowside-good {{ margin:4px 0; padding:6px 10px; border-left:4px solid var(--ls-good);
  background:#eef8f5; color:#00503f; white-space:normal; }}
.lowside-note {{ margin:4px 0; padding:6px 10px; border-left:4px solid var(--ls-low);
  background:#eef5fa; white-space:normal; }}
.lowside-folded summary {{ cursor:pointer; font-weight:600; }}
.lowside-folded summary:focus-visible {{ outline:3px solid var(--ls-low); outline-offset:2px; }}
.lowside-folded-words .lowside-words {{ position:absolute; width:1px; height:1px;
  overflow:hidden; clip-path:inset(50%); }}
.lowside .lowside-unfold {{ align-self:flex-start; margin:8px 0 0; font-size:13px; }}
.lowside .lowside-remarks {{ list-style:none; margin:8px 0 4px; padding:0; }}
.lowside-remarks li {{ margin:4px 0; padding:6px 10px; border-left:4px solid var(--ls-low);
  background:#eef5fa; }}
.lowside-remarks li:first-child {{ border-left-width:8px; }}
.lowside-remarks .lowside-cannot-be {{ border-color:var(--ls-high); background:#fdf3ee; }}
.lowside-remarks .lowside-in-order {{ border-color:var(--ls-good); background:#eef8f5; }}
.lowside-caution {{ margin:8px 0; padding:8px 12px; border:2px solid var(--ls-high);
  border-radius:6px; background:#fff; }}
.lowside-caution > b:first-child {{ color:var(--ls-high); }}
.lowside-list ul, .lowside-list ol {{ margin:2px 0 8px; padding-left:1.5em; }}
.lowside-list li {{ margin:2px 0; }}
.lowside-plain {{ max-width:800px; }}
.lowside-question {{ margin:0 0 8px; font-size:15px; }}
.lowside .widget-html-content p {{ margin:4px 0; }}
.lowside a {{ color:var(--ls-low); text-decoration:underline; }}
.lowside .lowside-table {{ border-collapse:collapse; margin:6px 0; width:100%; font-size:14px; }}
.lowside .lowside-table th, .lowside .lowside-table td {{ text-align:left; vertical-align:top;
  padding:4px 18px 4px 0; border:0; border-bottom:1px solid var(--ls-rule); background:none;
  white-space:normal; }}
.lowside.jupyter-widgets-disconnected::before, .lowside .jupyter-widgets-disconnected::before {{
  display:none !important; }}
.lowside-panel.jupyter-widgets-disconnected::before {{ display:block !important; margin:0 0 8px;
  padding:6px 10px; border-left:4px solid var(--ls-low); background:#eef5fa; font-family:inherit;
  font-size:14px; color:var(--ls-ink);
  content:"As you left it. Press ▶▶ at the top to bring it alive again." !important; }}
@media (min-width:601px) {{ .lowside .lowside-numbers td + td {{ white-space:nowrap; }} }}
@container (min-width:756px) {{
  .lowside-right {{ position:sticky; top:0; }} }}
@container (max-width:755px) {{
  .lowside-right, .lowside-right .lowside-figure, .lowside-right .lowside-banner,
  .lowside-right .widget-html-content, .lowside-right [aria-hidden] {{
    display:contents !important; }}
  .lowside-right .widget-html-content > *, .lowside-right [aria-hidden] > *,
  .lowside-row > .lowside-controls {{ flex:0 0 100% !important; max-width:none !important; }}
  .lowside-right .lowside-alert {{ order:-3; }} .lowside-right .lowside-why {{ order:-1; }}
  .lowside-right .lowside-picture {{ order:-2; min-width:0; position:sticky; top:0; z-index:2; }}
  .lowside-row .lowside-lead, .lowside-row .lowside-strip, .lowside-row .lowside-remarks,
  .lowside-row .lowside-words, .lowside-row .lowside-unfold {{ order:1; }} }}
@media (max-width:600px) {{ .lowside {{ padding:8px 6px; }}
  .lowside .lowside-picture {{ min-width:0; }} }}
/* Jupyter lets every box scroll by itself; the figure can only stay in view if they do not. */
.lowside-panel, .lowside-panel .lowside-row,
.jp-OutputArea-output:has(> .lowside-panel), .jp-OutputArea-child:has(.lowside-panel),
.jp-OutputArea:has(.lowside-panel), .jp-Cell-outputWrapper:has(.lowside-panel),
.jp-Cell:has(.lowside-panel) {{ overflow:visible !important; }}
@media print {{ .lowside {{ border:0; padding:0; }} .lowside-controls, .lowside-unfold,
  .lowside-header {{ display:none !important; }} .lowside-right {{ position:static; }}
  .lowside-folded-words .lowside-words {{ position:static; width:auto; height:auto;
  clip-path:none; }} }}
</style>"""


def paragraph(text, name, role=None):
    """Return a paragraph of plain text, escaped, in one of the sheet's classes."""
    spoken = f' role="{role}"' if role else ""
    return f'<p class="lowside-{name}"{spoken}>{html.escape(text)}</p>' if text else ""


def folded(heading, body):
    """Return HTML that stays folded away until its heading is clicked."""
    return (
        f'<details class="lowside-folded"><summary>{html.escape(heading)}</summary>{body}</details>'
    )


def remarks(pairs):
    """Return remarks as a list that is read out, each with its weight in front."""
    items = "".join(
        f'<li class="lowside-{weight.lower().replace(" ", "-")}"><b>{html.escape(weight)}:</b> '
        f"{html.escape(said)}</li>"
        for weight, said in pairs
    )
    return f'<ul class="lowside-remarks" role="status">{items}</ul>' if items else ""


def strip(readings, lead="What your gauges and clamps would say"):
    """Return readings as a row of labelled boxes."""
    if not readings:
        return ""
    boxes = "".join(
        f"<div><dt>{html.escape(place)}</dt><dd>{html.escape(value)}</dd></div>"
        for place, value in readings
    )
    return f'{paragraph(lead, "lead")}<dl class="lowside-strip">{boxes}</dl>'


def listed(heading, lines, tag="ul"):
    """Return lines of plain text as a list under a heading; nothing if there are none."""
    if not lines:
        return ""
    head = f"<b>{html.escape(heading)}</b>" if heading else ""
    items = "".join(f"<li>{html.escape(line)}</li>" for line in lines)
    return f'<div class="lowside-list">{head}<{tag}>{items}</{tag}></div>'


def download(body, title, name, words):
    """Return a link that saves a piece of HTML as a page of its own.

    Parameters
    ----------
    body : str
        HTML, complete with its style.
    title, name : str
        Of the page; of the file.
    words : str
        What the link says.

    Returns
    -------
    str
    """
    page = (
        '<!doctype html><html lang="en"><meta charset="utf-8">'
        f"<title>{html.escape(title)}</title><body>{body}</body></html>"
    )
    return offered(page, "text/html", name, words)


def offered(text, media, name, words):
    """Return a link that saves a text as a file.

    Parameters
    ----------
    text : str
        Content of the file.
    media, name : str
        Its MIME type, and its name.
    words : str
        What the link says.

    Returns
    -------
    str
    """
    data = base64.b64encode(text.encode("utf-8")).decode("ascii")
    return f'<a download="{name}" href="data:{media};base64,{data}">{html.escape(words)}</a>'
