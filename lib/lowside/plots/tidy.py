"""Giving back the memory that a drawing took.

A figure of matplotlib is a knot of objects that hold each other and some MB of pixels. Python
unties such knots only now and then, and the C library keeps what was freed: without help a kernel
grows by some 30 MB over a few pictures.
"""

from __future__ import annotations

import ctypes
import gc
import sys
from contextlib import contextmanager


@contextmanager
def tidied():
    """Draw inside this context; no figure made in it may be held outside."""
    working = gc.isenabled()
    gc.disable()  # so that all that is made here stays in the youngest generation
    try:
        yield
    finally:
        if working:
            gc.enable()
        gc.collect(0)
        _give_back()


def _give_back():
    """Hand freed memory to the system, where the C library can (glibc)."""
    if sys.platform == "linux":
        trim = getattr(ctypes.CDLL(None), "malloc_trim", None)
        if trim is not None:
            trim(0)
