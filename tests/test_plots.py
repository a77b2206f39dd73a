"""The live figure: the same on screen and on paper, safe text, colours that can be told apart."""

import base64
import gc
import io
import itertools
import re
import weakref
import xml.etree.ElementTree as ET

import matplotlib
import numpy as np
import pytest
from lowside.plots import canvas, marks, png, style
from lowside.plots.layout import Layout, text_width
from PIL import Image

SVG = "{http://www.w3.org/2000/svg}"


def two_axes(figure):
    left = figure.add_axes([0.12, 0.15, 0.5, 0.8])
    left.set_yscale("log")
    left.set_xlim(150e3, 700e3)
    left.set_ylim(1e5, 4e6)
    right = figure.add_axes([0.72, 0.15, 0.25, 0.8])
    right.set_xlim(10, -10)
    right.set_ylim(0, 1)
    return {"main": left, "side": right}


@pytest.fixture(scope="module")
def background():
    return canvas.Background(two_axes)


def svg(figure):
    return ET.fromstring(figure.overlay())


@pytest.mark.parametrize("axes", ["main", "side"])
def test_data_lands_where_matplotlib_puts_it(background, axes):
    figure, drawn = background._fresh()
    canvas._render(figure)
    x = np.linspace(*drawn[axes].get_xlim(), 7)
    y = np.geomspace(2e5, 3e6, 7) if axes == "main" else np.linspace(-0.2, 1.2, 7)
    expected = drawn[axes].transData.transform(np.c_[x, y]) / canvas.SHARPNESS
    px, py = background.points(x, y, axes)
    assert np.allclose(px, expected[:, 0], atol=1e-6)
    assert np.allclose(py, background.height - expected[:, 1], atol=1e-6)


def test_a_marker_is_drawn_at_the_same_pixel_on_screen_and_on_paper(background):
    """Centre of colour of a marker in matplotlib's picture against its path in the SVG."""
    item = marks.Markers([432e3], [9.5e5], "square", 15, colour="#FF0000")
    figure = canvas.LiveFigure(background, [item], "a marker")
    (path,) = svg(figure).iter(f"{SVG}path")
    corners = np.array(re.findall(r"[-\d.]+", path.get("d")), dtype=float).reshape(-1, 2)
    pixels = np.asarray(Image.open(io.BytesIO(figure.png())).convert("RGB")).astype(int)
    rows, columns = np.nonzero((pixels[..., 0] > 200) & (pixels[..., 1:].max(axis=-1) < 60))
    centre = (np.array([columns.mean(), rows.mean()]) + 0.5) / canvas.SHARPNESS
    assert np.allclose(centre, corners.mean(axis=0), atol=0.6)


def test_text_stands_at_the_same_place_on_screen_and_on_paper(background):
    item = marks.Text(3e5, 5e5, "HHH", (marks.Spot(0, 0, "start"),), 20, "#FF0000", halo=False)
    figure = canvas.LiveFigure(background, [item], "a word")
    (words,) = svg(figure).iter(f"{SVG}text")
    pixels = np.asarray(Image.open(io.BytesIO(figure.png())).convert("RGB")).astype(int)
    rows, columns = np.nonzero((pixels[..., 0] > 200) & (pixels[..., 1:].max(axis=-1) < 90))
    assert columns.min() / canvas.SHARPNESS == pytest.approx(float(words.get("x")), abs=3)
    assert (rows.max() + 1) / canvas.SHARPNESS == pytest.approx(float(words.get("y")), abs=1)
    height_of_capital = (rows.max() - rows.min() + 1) / canvas.SHARPNESS
    assert height_of_capital == pytest.approx(0.73 * float(words.get("font-size")), abs=1)


def test_every_primitive_is_drawn_by_both_back_ends(background):
    items = [
        marks.Line([2e5, 3e5, np.nan, 4e5, 5e5], [5e5] * 5, dash="dashed"),
        marks.Area([2e5, 3e5], [2e5, 2e5], [3e5, 4e5], opacity=1.0),
        marks.Span("y", 2e6, 3e6, opacity=1.0),
        marks.Span("x", 2e5, 2.2e5, opacity=1.0),
        marks.Bar(5, 0, 2, 0.6, axes="side"),
        marks.Markers([6e5], [6e5], "diamond"),
        marks.Numbered(6e5, 1e6, "2"),
        marks.Text(3e5, 3e6, "words"),
        marks.Arrow(3e5, 1e6, 4e5, 2e6),
        marks.Brace(3e5, 5e5, 4e5, 5e5, "superheat", "below"),
        marks.Brace(3e5, 5e5, 4e5, 5e5, "above", "above", leans=(20,), stem=14),
        marks.Brace(0, 0.2, 0, 0.8, "rise", "right", axes="side"),
    ]
    empty = np.asarray(Image.open(io.BytesIO(background.png)).convert("L")).astype(int)
    for item in items:
        figure = canvas.LiveFigure(background, [item], "one item")
        assert len(list(svg(figure))) >= 1
        drawn = np.asarray(Image.open(io.BytesIO(figure.png())).convert("L")).astype(int)
        assert (np.abs(drawn - empty) > 8).sum() > 30, item


def test_a_gap_in_the_data_breaks_the_line_and_never_reaches_the_page(background):
    line = marks.Line([2e5, 3e5, np.nan, 4e5, 5e5], [1e6, 1e6, 1e6, np.inf, 1e6])
    point = marks.Markers([np.nan, 3e5], [1e6, 1e6])
    gone = marks.Text(np.nan, 1e6, "nowhere")
    text = canvas.LiveFigure(background, [line, point, gone], "gaps").overlay()
    assert "nan" not in text
    assert "inf" not in text
    assert "nowhere" not in text
    assert text.count("M") == 3


def test_text_from_outside_cannot_become_markup(background):
    nasty = '<script>alert("x")</script>&\'"'
    figure = canvas.LiveFigure(background, [marks.Text(3e5, 1e6, nasty)], nasty)
    root = svg(figure)
    assert root.get("aria-label") == nasty
    assert [t.text for t in root.iter(f"{SVG}text")] == [nasty]
    assert not list(root.iter(f"{SVG}script"))


def test_dollar_signs_are_no_formula(background):
    figure = canvas.LiveFigure(background, [marks.Text(3e5, 1e6, r"$\frac{")], "dollars")
    assert figure.png()


def test_a_picture_says_in_words_what_it_shows(background):
    figure = canvas.LiveFigure(background, [], "Nothing happens here.")
    root = svg(figure)
    assert root.get("role") == "img"
    assert root.get("viewBox") == f"0 0 {background.width} {background.height}"
    data, metadata = figure._repr_mimebundle_()
    assert data["text/plain"] == "Nothing happens here."
    assert metadata["image/png"]["alt"] == "Nothing happens here."
    size = Image.open(io.BytesIO(base64.b64decode(data["image/png"]))).size
    assert size == (2 * background.width, 2 * background.height)


def test_the_same_figure_has_the_same_bytes(background):
    item = marks.Line([2e5, 6e5], [3e5, 3e6], style.HIGH)
    pictures = {canvas.LiveFigure(background, [item], "twice").png() for _ in range(2)}
    assert len(pictures) == 1
    assert canvas.Background(two_axes).png == background.png


def test_pale_tints_stay_apart_in_the_small_png(background):
    tints = ["#F8E6DE", "#E9DFF2", "#D6E8F4", "#F1F5F9", "#D5DCE2", "#F5D8CA", "#FFFFFF"]
    bars = [
        marks.Bar(1.5e5 + n * 5e4, 2e5, 2e5 + n * 5e4, 2e6, colour=tint)
        for n, tint in enumerate(tints)
    ]
    lines = [marks.Line([1.5e5, 6.8e5], [3e5, 3e6], c) for c in style.SERIES.values()]
    figure = canvas.LiveFigure(background, [*bars, *lines], "tints")
    pixels = Image.open(io.BytesIO(figure.png())).convert("RGB")
    for bar, tint in zip(bars, tints, strict=True):
        (x,), (y,) = background.points([bar.x0 + 1e4], [2.2e5])
        seen = pixels.getpixel((round(2 * x), round(2 * y)))
        meant = [int(tint[i : i + 2], 16) for i in (1, 3, 5)]
        assert np.abs(np.subtract(seen, meant)).max() <= 3, tint


def test_a_png_of_few_colours_is_exact_and_of_many_is_close():
    random = np.random.default_rng(1)
    few = random.permutation(np.stack(np.meshgrid(*[[0, 97, 250]] * 3), -1).reshape(-1, 3))[:20]
    flat = few[random.integers(0, 20, (40, 60))].astype(np.uint8)
    again = np.asarray(Image.open(io.BytesIO(png.encode(flat))).convert("RGB"))
    assert np.array_equal(again, flat)
    steps = np.linspace(0, 255, 200)
    ramp = np.broadcast_to(steps[None, :, None], (10, 200, 3)).astype(np.uint8)
    again = np.asarray(Image.open(io.BytesIO(png.encode(ramp))).convert("RGB"))
    assert np.abs(again.astype(int) - ramp).max() <= 6


def test_a_background_is_drawn_once_for_a_key():
    drawn = []

    def draw(figure):
        drawn.append(1)
        return figure.add_axes([0.1, 0.1, 0.8, 0.8])

    first = canvas.Background.once(draw, key=("test", 1))
    assert canvas.Background.once(draw, key=("test", 1)) is first
    assert canvas.Background.once(draw, key=("test", 2)) is not first
    assert len(drawn) == 2


def lines_and_a_word():
    return [
        marks.Line([2e5, 6e5], [3e5, 3e6], style.HIGH),
        marks.Text(3e5, 2e6, "still", (marks.Spot(0, 0),)),
    ]


def test_what_stands_still_is_the_same_inside_by_reference_and_on_paper(background):
    moving = marks.Numbered(3e5, 1e6, "1")
    plain = canvas.LiveFigure(background, [*lines_and_a_word(), moving], "w")
    held = canvas.LiveFigure(background, [marks.Still("a", lines_and_a_word), moving], "w")
    assert held.png() == plain.png()
    assert sorted(map(ET.tostring, svg(held).iter())) == sorted(map(ET.tostring, svg(plain).iter()))
    root = ET.fromstring(held.overlay(by_reference=True))
    (use,) = root.iter(f"{SVG}use")
    (group,) = ET.fromstring(held.still()).iter("g")
    assert use.get("href") == "#" + group.get("id")
    inside = "".join(ET.tostring(child, encoding="unicode") for child in group)
    assert "still" in inside
    assert "still<" not in held.overlay(by_reference=True)
    assert plain.still() == ""


def test_what_stands_still_is_made_once_for_a_key(background):
    made = []

    def make():
        made.append(1)
        return lines_and_a_word()

    for step in range(5):
        moving = marks.Markers([3e5 + step], [1e6])
        figure = canvas.LiveFigure(background, [marks.Still(("once", 1), make), moving], "w")
        figure.overlay(by_reference=True)
    assert len(made) == 1
    canvas.LiveFigure(background, [marks.Still(("once", 2), make)], "w").overlay()
    assert len(made) == 2


def test_labels_keep_clear_of_what_stands_still(background):
    taken = marks.Still("taken", lambda: [marks.Text(3e5, 1e6, "here first", marks.AROUND)])
    late = marks.Text(3e5, 1e6, "late", marks.AROUND)
    alone, beside = (
        next(
            word
            for word in svg(canvas.LiveFigure(background, items, "w")).iter(f"{SVG}text")
            if word.text == "late"
        )
        for items in ([late], [taken, late])
    )
    assert (alone.get("x"), alone.get("y")) != (beside.get("x"), beside.get("y"))


def test_a_drawn_figure_leaves_nothing_in_memory():
    figures = []

    def draw(figure):
        figures.append(weakref.ref(figure))
        return figure.add_axes([0.1, 0.1, 0.8, 0.8])

    background = canvas.Background(draw)
    canvas.LiveFigure(background, [marks.Bar(0, 0, 1, 1)], "w").png()
    assert len(figures) == 2
    assert [figure() for figure in figures] == [None, None]
    assert gc.isenabled()


def test_paper_belongs_to_its_overlay(background):
    figure = canvas.LiveFigure(background, [], "w")
    assert f".lowside-paper-{background.name}" in figure.paper()
    assert f"lowside-paper-{background.name}" in svg(figure).get("class")
    assert figure.html() == figure.paper() + figure.overlay()


def test_drawing_leaves_the_readers_settings_alone(background):
    before = dict(matplotlib.rcParams)
    canvas.LiveFigure(background, [marks.Numbered(3e5, 1e6, "1")], "w").png()
    assert dict(matplotlib.rcParams) == before


def test_labels_keep_clear_of_each_other_and_of_the_edge():
    layout = Layout(600, 400)
    boxes = []
    for x, y in [(100, 100), (104, 102), (98, 97), (590, 20), (3, 395)]:
        layout.choose(x, y, marks.AROUND, text_width("superheat", 14), 14)
        boxes.append(layout.boxes[-1])
    for a, b in itertools.combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    for left, top, right, bottom in boxes:
        assert left >= 0
        assert top >= 0
        assert right <= 600
        assert bottom <= 400


def test_estimated_text_width_is_never_short_of_the_real_one():
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    font = FontProperties(family="DejaVu Sans")
    for text in ("superheat 18.0 °F", "bubble -20.2 °C", "MMM 100 % → dew", "68.0 psig", "lilt"):
        real = TextPath((0, 0), text, size=14, prop=font).get_extents().width
        assert 0.97 * real < text_width(text, 14) < 1.35 * real, text


# Contrast: WCAG 2.1, "relative luminance" and "contrast ratio" (from memory; its own end points,
# 21 for black on white and 4.54 for #767676, are checked first).


def linear(colour):
    channel = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    return np.where(channel <= 0.04045, channel / 12.92, ((channel + 0.055) / 1.055) ** 2.4)


def contrast_on_white(colour):
    return 1.05 / (linear(colour) @ [0.2126, 0.7152, 0.0722] + 0.05)


def test_contrast_formula():
    assert contrast_on_white("#000000") == pytest.approx(21.0)
    assert contrast_on_white("#767676") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("name", ["INK", "MUTED", "LOW", "HIGH", "OWN", "GOOD"])
def test_colours_of_text_and_lines_stand_out_on_white(name):
    assert contrast_on_white(getattr(style, name)) >= 4.5


# Colour-blindness: matrices of Machado, Oliveira and Fernandes 2009 at full severity (from memory;
# each row must add up to 1, so that grey stays grey), distance in CIE L*a*b*.
BLINDNESS = {
    "none": np.eye(3),
    "protan": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "deutan": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "tritan": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}


def lab(light):
    to_xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    )
    xyz = to_xyz @ np.clip(light, 0, 1) / to_xyz.sum(axis=1)
    f = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("sight", BLINDNESS)
def test_series_colours_stay_apart_for_every_kind_of_sight(sight):
    matrix = np.array(BLINDNESS[sight])
    assert np.allclose(matrix.sum(axis=1), 1.0, atol=1e-5)
    seen = {name: lab(matrix @ linear(colour)) for name, colour in style.SERIES.items()}
    for a, b in itertools.combinations(seen, 2):
        assert np.linalg.norm(seen[a] - seen[b]) > 15, (a, b)
