"""Charts of the workbook, beside the tables they are drawn from."""

from __future__ import annotations

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from elevgen.writers._xlsx_cells import Table, a1
from elevgen.writers._xlsx_layout import FIRST_ROW, Layout
from elevgen.writers._xlsx_model import Chart

BESIDE = 3
"""Column it begins in."""
WIDTH, ROW, LEAST, MOST = 520, 22, 200, 480
"""Points on the screen: how wide, how high for each bar, and how high at least and at most."""


def put_chart(book: Workbook, page: Worksheet, layout: Layout, sheet: str, chart: Chart) -> None:
    """Bars from the top of the table down, as many as it has rows."""
    table = Table(sheet, chart.heading)
    bars = book.add_chart({"type": "bar"})
    names, values = (
        f"={a1(layout.at(table, column, 0), '', True)}:{a1(layout.at(table, column, -1), sheet, True)}"
        for column in (chart.names, chart.bars)
    )
    count = layout.at(table, chart.bars, -1).row - layout.at(table, chart.bars, 0).row + 1
    bars.add_series(
        {
            "name": chart.title,
            "categories": names,
            "values": values,
            "fill": {"color": "#B5654A"},
            "gap": 60,
            "data_labels": {"value": True, "num_format": "#,##0.0"},
        }
    )
    bars.set_title({"name": chart.title, "name_font": {"size": 11}})
    bars.set_legend({"none": True})
    bars.set_y_axis({"reverse": True, "num_font": {"size": 9}})
    bars.set_x_axis({"num_format": "#,##0", "major_gridlines": {"visible": True, "line": {"color": "#D9D9D9"}}})
    bars.set_size({"width": WIDTH, "height": min(MOST, max(LEAST, 90 + ROW * count))})
    page.insert_chart(FIRST_ROW, BESIDE, bars, {"object_position": 2})
