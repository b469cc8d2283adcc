"""The chart of predicted against lived as a picture."""

from scoring.charts.lived import lived_spec


def lived_svg(found):
    """Return the SVG of one Lived."""
    import vl_convert  # slow to import, and only here

    return vl_convert.vegalite_to_svg(lived_spec(found), vl_version="6.4")
