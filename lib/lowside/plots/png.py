"""Small PNGs: few colours, no metadata, the same bytes for the same picture.

A figure has some flat tints, which must come out as they are, and many shades in between along the
edges of lines and letters, which may be merged. So the commonest colours get a place of their own
in the palette, and the rest share what is left.
"""

from __future__ import annotations

import io

import numpy as np

COLOURS = 128
_BLOCKS = 8  # parts of a picture looked at in turn, to need less memory
_OWN_PLACE = 24
_BITS = 6  # of each channel; shades that agree in these are one to start with


def encode(pixels):
    """Write pixels as a PNG with a palette.

    Parameters
    ----------
    pixels : numpy.ndarray of uint8, shape (rows, columns, 3)
        Red, green, blue.

    Returns
    -------
    bytes
        The PNG.
    """
    from PIL import Image

    blocks = np.array_split(pixels, _BLOCKS)
    kinds = 1 << 3 * _BITS
    counts, sums = np.zeros(kinds, dtype=int), np.zeros((3, kinds))
    for block in blocks:
        shade = _shade(block).ravel()
        counts += np.bincount(shade, minlength=kinds)
        for channel in range(3):
            sums[channel] += np.bincount(shade, block[..., channel].ravel(), kinds)
    used = np.flatnonzero(counts)
    colours = np.rint(sums[:, used].T / counts[used, None]).astype(np.int32)

    common = np.argsort(-counts[used], kind="stable")[:_OWN_PLACE]
    every = Image.fromarray(colours[None].astype(np.uint8))
    shared = every.quantize(COLOURS - _OWN_PLACE, Image.Quantize.MAXCOVERAGE, kmeans=2)
    palette = np.vstack([colours[common], np.reshape(shared.getpalette(), (-1, 3))])[:COLOURS]
    place = np.zeros(kinds, dtype=np.uint8)
    place[used] = _nearest(colours, palette)

    picture = Image.fromarray(np.vstack([place[_shade(block)] for block in blocks]))
    picture.putpalette(palette.astype(np.uint8).ravel().tolist())
    buffer = io.BytesIO()
    picture.save(buffer, "png", compress_level=7)
    return buffer.getvalue()


def _nearest(colours, palette):
    """Return the place in a palette of what comes closest to each colour."""
    least, place = np.full(len(colours), 3 * 256**2), np.zeros(len(colours), dtype=np.uint8)
    for number, entry in enumerate(palette):
        distance = ((colours - entry) ** 2).sum(axis=-1)
        closer = distance < least
        least[closer], place[closer] = distance[closer], number
    return place


def _shade(pixels):
    """Return a number for each pixel, from the leading bits of its channels."""
    red, green, blue = (pixels[..., channel].astype(np.int32) >> 8 - _BITS for channel in range(3))
    return (red << 2 * _BITS) | (green << _BITS) | blue
