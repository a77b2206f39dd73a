"""Hand-outs: whole files, nothing from outside, and no answers in the learner's copy."""

import re
import sys
from html.parser import HTMLParser

import nbformat
import pytest
from lowside import __main__ as launcher
from lowside import handouts, lesson, readout
from lowside.errors import LowsideError
from lowside.handouts import paper, sheets
from lowside.handouts.prose import to_html
from lowside.screens.links import NOTEBOOKS

PATHS = {p.name[:2]: p for p in sorted(NOTEBOOKS.glob("[0-9]*.ipynb")) if p.name[:2] != "00"}
every_lesson = pytest.mark.parametrize("number", PATHS)


class Elements(HTMLParser):
    """Every element of a page, with its attributes, and the text outside styles."""

    def __init__(self, page):
        super().__init__()
        self.elements, self.text, self._style = [], "", False
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))
        self._style = tag == "style"

    def handle_endtag(self, tag):
        self._style = False

    def handle_data(self, data):
        if not self._style:
            self.text += data


@pytest.fixture(scope="module")
def sets(tmp_path_factory):
    """The learner's and the instructor's set, in one folder."""
    folder = tmp_path_factory.mktemp("set")
    return folder, handouts.write(folder), handouts.write(folder, instructor=True)


def answers(number):
    """Lines that a lesson's worked answers and its look back show, and its questions do not."""
    given, asked = set(), ""
    for cell in nbformat.read(PATHS[number], as_version=4).cells:
        for output in cell.get("outputs", ()):
            words = output.data.get("text/plain", "")
            if sheets.gives_away(cell):
                given |= {re.sub(r"^\s*(\d+\. )?", "", line) for line in words.splitlines()}
            else:
                asked += words
    return {line.strip() for line in given if len(line) > 25 and line.strip() not in asked}


@every_lesson
def test_the_learners_copy_holds_no_answer_and_the_instructors_holds_all(sets, number):
    folder = sets[0]
    learner = Elements((folder / f"{PATHS[number].stem}.html").read_text(encoding="utf-8")).text
    whole = (folder / f"{PATHS[number].stem}-instructor.html").read_text(encoding="utf-8")
    instructor = Elements(whole).text
    lines = answers(number)
    assert len(lines) >= 3
    shown = " ".join(instructor.split())
    hidden = " ".join(learner.split())
    assert not [line for line in lines if " ".join(line.split()) not in shown]
    assert not [line for line in lines if " ".join(line.split()) in hidden]
    assert "Worked answer" in instructor
    assert "Worked answer" not in learner
    assert "It turns out" not in learner


def test_every_file_is_complete_by_itself(sets):
    for path in {*sets[1], *sets[2]}:
        page = path.read_text(encoding="utf-8")
        elements = Elements(page).elements
        assert not {tag for tag, _ in elements} & {"script", "link", "iframe", "object", "embed"}
        for tag, attributes in elements:
            assert not [name for name in attributes if name.startswith("on")], (tag, attributes)
            assert (attributes.get("src") or "data:").startswith("data:")
            if "href" in attributes:
                assert (path.parent / attributes["href"]).exists(), attributes["href"]
        style = " ".join(re.findall(r"<style>(.*?)</style>", page, flags=re.S))
        assert not re.search(r"url\((?!data:)", style)
        assert "@import" not in style


@every_lesson
def test_a_page_has_the_figures_and_formulas_of_its_notebook(sets, number):
    cells = nbformat.read(PATHS[number], as_version=4).cells
    page = (sets[0] / f"{PATHS[number].stem}.html").read_text(encoding="utf-8")
    pictures = [d for c in cells for o in c.get("outputs", ()) if (d := o.data.get("image/png"))]
    images = [attrs for tag, attrs in Elements(page).elements if tag == "img"]
    assert len(images) == len(pictures)
    assert all(len(attributes["alt"]) > 80 for attributes in images)
    prose = "".join(c.source for c in cells if c.cell_type == "markdown")
    assert page.count('<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"') == (
        prose.count("$$") // 2
    )
    assert "$" not in re.sub(r"base64,[^\"]*", "", page)
    assert "This page stands still" not in Elements(page).text


@every_lesson
def test_every_job_card_is_there_in_both_units(sets, number):
    stored = (sets[0] / f"job-card-{number}.html").read_text(encoding="utf-8")
    for units in ("us", "metric"):
        show = readout.choose(units)
        card = lesson.get(number).card
        assert card.html(show) in sheets.card(card, show)
    assert lesson.get(number).card.html(readout.choose("us")) in stored


def test_the_list_links_every_lesson_and_card(sets):
    folder, learner, _ = sets
    linked = re.findall(r'href="([^"]+)"', learner[0].read_text(encoding="utf-8"))
    assert sorted(linked) == sorted(path.name for path in learner[1:])
    assert {path.stem for path in learner[1:]} >= {path.stem for path in PATHS.values()}
    assert all(path.parent == folder for path in learner)


def test_one_lesson_alone_has_no_dead_links(tmp_path):
    written = handouts.write(tmp_path, ["22"])
    assert [p.name for p in written] == [
        "index.html",
        f"{PATHS['22'].stem}.html",
        "job-card-22.html",
    ]
    for name in re.findall(r'href="([^"]+)"', written[1].read_text(encoding="utf-8")):
        assert (tmp_path / name).exists()


def test_other_units_are_worked_out_anew(tmp_path):
    page = handouts.write(tmp_path, ["44"], units="metric")[1].read_text(encoding="utf-8")
    text = Elements(page).text
    assert "°C" in text
    assert "°F" not in text
    assert "psi" not in text


def test_formulas_need_no_script():
    page = to_html("As $x < y$ and\n\n$$\\frac{a}{b} < 2$$")
    assert page.count("<math") == 2
    assert "<mfrac><mrow><mi>a</mi></mrow><mrow><mi>b</mi></mrow></mfrac>" in page
    assert page.count("&lt;") + page.count("&#x0003C;") == 2


# PDF ----------------------------------------------------------------------------------------------


@pytest.mark.skipif(
    paper.find_browser() is None,
    reason=f"no browser: none of {', '.join(paper.BROWSERS)} is on the path",
)
def test_a_job_card_prints_on_one_page_and_a_lesson_with_its_figures(tmp_path):
    written = {p.name: p.read_bytes() for p in handouts.write(tmp_path, ["22"], pdf=True)}
    card, whole = written["job-card-22.pdf"], written[f"{PATHS['22'].stem}.pdf"]
    assert card.startswith(b"%PDF-")
    assert len(re.findall(rb"/Type /Page\b", card)) == 1
    assert len(re.findall(rb"/Type /Page\b", whole)) > 3
    assert b"/Subtype /Image" in whole


def test_without_a_browser_pdf_is_refused_before_anything_is_written(tmp_path, monkeypatch):
    monkeypatch.setattr(paper, "find_browser", lambda: None)
    with pytest.raises(LowsideError, match="PDF needs a browser"):
        handouts.write(tmp_path / "new", ["22"], pdf=True)
    assert not (tmp_path / "new").exists()


# The command --------------------------------------------------------------------------------------


def run(monkeypatch, *arguments):
    monkeypatch.setattr(sys, "argv", ["lowside", *map(str, arguments)])
    launcher.main()


def test_the_command_writes_the_set(monkeypatch, tmp_path, capsys):
    run(monkeypatch, "handouts", "--to", tmp_path / "a" / "b", "--lesson", "22", "--instructor")
    assert capsys.readouterr().out.startswith("3 files; open ")
    assert (tmp_path / "a" / "b" / "index-instructor.html").exists()


def test_bad_folder_and_unknown_lesson_are_answered_in_a_sentence(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(SystemExit, match=r"cannot be written to .* give a folder"):
        run(monkeypatch, "handouts", "--to", tmp_path / "file" / "x", "--lesson", "22")
    with pytest.raises(SystemExit, match="There is no lesson “99” here"):
        run(monkeypatch, "handouts", "--to", tmp_path, "--lesson", "99")
    with pytest.raises(SystemExit, match="There is no lesson “99” here"):
        run(monkeypatch, "class", "99")
