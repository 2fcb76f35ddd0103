"""A camera's raw file, made by hand."""

from __future__ import annotations

import io

import numpy as np
import tifffile


def raw_file() -> bytes:
    """Make a small camera raw file: half bright, half dark, to be turned a quarter clockwise.

    Tags: DNG specification 1.4 (repeat pattern, CFA colors, matrix, neutral, white level).
    """
    mosaic = np.full((64, 96), 1000, np.uint16)
    mosaic[:, :48] = 9000
    one_to_one = (1, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1)
    tags = [
        (50706, 1, 4, bytes([1, 4, 0, 0]), True),
        (33421, 3, 2, (2, 2), True),
        (33422, 1, 4, bytes([0, 1, 1, 2]), True),
        (50708, 2, 0, "Castellan P4", True),
        (50721, 10, 9, one_to_one, True),
        (50728, 5, 3, (1, 1, 1, 1, 1, 1), True),
        (50717, 3, 1, 16383, True),
        (274, 3, 1, 6, True),
        (272, 2, 0, "Castellan P4", True),
        (306, 2, 0, "2026:03:05 15:21:05", True),
    ]
    stream = io.BytesIO()
    tifffile.imwrite(stream, mosaic, photometric="CFA", extratags=tags)
    return stream.getvalue()
