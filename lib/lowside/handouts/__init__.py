"""Hand-outs: every lesson and job card as one file that needs no kernel and no network.

``write`` puts a set into a folder. Rooms within: ``sets`` (that), ``sheets`` (a frozen notebook, a
job card or the list of a set as one HTML page), ``prose`` (markdown as HTML, formulas as MathML),
``paper`` (HTML printed to PDF by a Chromium that is installed).
"""

__all__ = ["write"]


def __getattr__(name):
    if name == "write":
        from lowside.handouts.sets import write

        return write
    raise AttributeError(f"module 'lowside.handouts' has no attribute {name!r}")
