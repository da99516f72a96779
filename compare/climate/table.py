"""Comma-separated hourly rows as float columns, with errors that name the column."""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

from compare.climate.columns import WeatherFileError
from compare.climate.year import FloatArray


def number_columns(text: str, skip: int, wanted: Mapping[str, int]) -> dict[str, FloatArray]:
    """Columns by position from comma-separated text.

    Blank or absent cells become NaN. Raises `WeatherFileError` where a cell is no number or the rows cannot be parsed.
    """
    import pandas as pd

    places = sorted(set(wanted.values()))
    try:
        frame = pd.read_csv(
            io.StringIO(text),
            skiprows=skip,
            header=None,
            usecols=places,
            skip_blank_lines=True,
            na_values=["", " "],
            low_memory=False,
            engine="c",
        )
    except (pd.errors.ParserError, pd.errors.EmptyDataError, ValueError) as fault:
        reason = " ".join(str(fault).split())[:120]
        raise WeatherFileError(f"data rows: no columns can be read ({reason}). Download the file again.") from fault
    return {name: _as_floats(name, np.asarray(frame[place])) for name, place in wanted.items()}


def _as_floats(name: str, values: npt.NDArray[Any]) -> FloatArray:
    if values.dtype.kind in "fiu":
        return values.astype(np.float64)
    result = np.full(values.size, np.nan)
    for row, cell in enumerate(values):
        try:
            result[row] = float(cell)
        except (TypeError, ValueError):
            words = name.replace("_", " ")
            raise WeatherFileError(
                f"column {words}: row {row + 1} holds {str(cell)[:30]!r}, which is no number. Repair that row."
            ) from None
    return result
