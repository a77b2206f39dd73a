"""Time from a key press on a slider to the new picture, in a real JupyterLab.

    python tests/bench/slider.py notebooks/22-port-size-moves-superheat.ipynb Port 60

Opens the notebook, runs every cell, finds the slider of a control by its label and presses the
arrow keys. The clock runs in the browser: from the key event to the change of the page, and to the
first frame that shows it. Then the handle is dragged for two seconds to count pictures per second.
The same is done first with a bare slider that only writes its number: what is left for the picture
is the ratio. The table also says what a press costs whatever else the machine does: processor time
of the page's main thread and of the kernel, messages and bytes that come from the kernel, and how
much memory the kernel holds at the end (Linux). Nothing is asserted.
"""

import os
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

import nbformat

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

import lab

BARE = """import ipywidgets as w
slider, label, out = w.FloatSlider(readout=False), w.Text(description="bare"), w.HTML("0")
control, panel = w.VBox([label, slider]), w.VBox()
panel.children = [control, out]
for widget, name in ((control, "control"), (panel, "panel"), (out, "figure")):
    widget.add_class("lowside-" + name)
slider.observe(lambda c: setattr(out, "value", f"<p>{c['new']}</p>"), "value")
panel"""

WATCH = """(picture) => {
    window.lowsideTimes = [];
    window.lowsidePictures = 0;
    let pressed = null;
    document.addEventListener('keydown', () => { pressed = performance.now(); }, true);
    new MutationObserver(() => {
        window.lowsidePictures += 1;
        if (pressed === null) { return; }
        const since = pressed, changed = performance.now() - since;
        pressed = null;
        requestAnimationFrame(
            () => window.lowsideTimes.push([changed, performance.now() - since]));
    }).observe(picture, {childList: true, subtree: true});
}"""


def main(notebook, label, presses=60):
    path = Path(notebook).resolve()
    work = Path(tempfile.mkdtemp(prefix="lowside-bench-"))
    try:
        bare = work / "bare.ipynb"
        page = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(BARE)])
        page.metadata.kernelspec = {"name": "python3", "display_name": "Python 3"}
        nbformat.write(page, bare)
        print(
            "| slider | presses | changed: median, p95 ms | shown: median, p95 ms | pict./s "
            "| page ms | kernel ms | messages | kB | kernel MB |"
        )
        print("|" + 10 * "---|")
        base = measure(bare, "bare", int(presses), work / "first")
        ours = measure(path, label, int(presses), work / "second")
        print(f"ratio of medians, frame shown: {ours / base:.2f}")
    finally:
        shutil.rmtree(work, ignore_errors=True)


def measure(path, label, presses, work):
    with (
        lab.jupyter_lab(path.parent, work / "jupyter") as address,
        lab.chromium_page(work / "profile", 1400, 1000) as page,
    ):
        received = []
        page.on(
            "websocket",
            lambda socket: socket.on("framereceived", lambda data: received.append(len(data))),
        )
        lab.open_notebook(page, address, path.name)
        lab.run_all(page)
        kernel = kernel_process(work)
        panel = page.locator(".lowside-panel").filter(has=page.get_by_label(label)).first
        control = panel.locator(".lowside-control").filter(has=page.get_by_label(label))
        handle = control.locator(".noUi-handle")
        handle.scroll_into_view_if_needed()
        picture = panel.locator(".lowside-figure")
        picture.evaluate(WATCH)
        handle.focus()
        for number in range(5):
            press(page, number)
        received.clear()
        page_seconds = page_clock(page)
        page_before, kernel_before = page_seconds(), kernel_seconds(kernel)
        times = [press(page, number) for number in range(5, presses + 5)]
        page.wait_for_timeout(200)
        page_each = 1e3 * (page_seconds() - page_before) / presses
        kernel_each = 1e3 * (kernel_seconds(kernel) - kernel_before) / presses
        messages, size = len(received) / presses, sum(received) / presses / 1024
        rate, memory = drag(page, handle), kernel_memory(kernel)
    changed, shown = (sorted(column) for column in zip(*times, strict=True))
    cells = [f"{path.stem}: {label}", str(presses), spread(changed), spread(shown), f"{rate:.0f}"]
    cells += [f"{page_each:.1f}", f"{kernel_each:.1f}", f"{messages:.1f}", f"{size:.1f}"]
    print("|", " | ".join([*cells, f"{memory:.0f}"]), "|", flush=True)
    return statistics.median(shown)


def page_clock(page):
    """Return a function that gives the processor time of the page's main thread so far [s]."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def seconds():
        metrics = session.send("Performance.getMetrics")["metrics"]
        return next(metric["value"] for metric in metrics if metric["name"] == "TaskDuration")

    return seconds


def kernel_process(work):
    """Folder in /proc of the kernel whose connection file lies in a folder, or None."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_text()
        except OSError:
            continue
        if "ipykernel" in command and str(work) in command:
            return process
    return None


def kernel_seconds(process):
    if process is None:
        return float("nan")
    user, system = (process / "stat").read_text().rpartition(")")[2].split()[11:13]
    return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


def kernel_memory(process):
    """Memory that the kernel holds [MB, of 1e6 bytes]."""
    if process is None:
        return float("nan")
    status = (process / "status").read_text().split("VmRSS:")[1]
    return int(status.split()[0]) * 1024 / 1e6


def spread(values):
    return f"{statistics.median(values):.0f}, {values[int(0.95 * (len(values) - 1))]:.0f}"


def press(page, number):
    seen = page.evaluate("window.lowsideTimes.length")
    page.keyboard.press("ArrowRight" if number // 10 % 2 == 0 else "ArrowLeft")
    page.wait_for_function(f"window.lowsideTimes.length > {seen}")
    page.wait_for_timeout(40)
    return page.evaluate("window.lowsideTimes[window.lowsideTimes.length - 1]")


def drag(page, handle, seconds=2.0):
    """Pictures per second while the handle is dragged to and fro."""
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    before, start, step = page.evaluate("window.lowsidePictures"), time.monotonic(), 0
    while time.monotonic() - start < seconds:
        step += 1
        page.mouse.move(x + 60 * abs((step % 40) / 20 - 1) - 30, y)
        page.wait_for_timeout(15)
    page.mouse.up()
    return (page.evaluate("window.lowsidePictures") - before) / (time.monotonic() - start)


if __name__ == "__main__":
    main(*sys.argv[1:])
