"""What few briefs tell, under “More”: prices by size, lifting aids, used machines."""

import streamlit as st

from scoring.errors import ScoringError
from scoring.inputs.also import UsedMachine
from scoring.inputs.brief import AIDS, Aid, Band
from scoring.inputs.case.bands import band_added, band_taken
from scoring.inputs.case.edit import REMOVED, at
from scoring.inputs.case.fields import change_of, fields_of
from scoring.inputs.quantity import Wrong
from scoring.page import text
from scoring.page.own.entry import Edited, entry, place_of
from scoring.page.own.rows import rows_form
from scoring.page.state.own import WRONG, plain, wrong_at

ACROSS = 3
BAND = {"up_to": "Up to", "per_m2": "Price by area"}
AID = {"price": "Price", "minutes_per_job": "Minutes a job", "capacity": "Carries"}
FORM = "price.bands"


def size_bands(sheet, j):
    """Draw the prices by size of a kind of job, and the way to add one."""
    path, fields = f"work.{j}.price", fields_of(Band)
    text.note(
        "Price by size: each band up to an area, the last for all that is larger."
    )
    bands = at(sheet.data, f"{path}.bands", [])
    for k, _ in enumerate(bands):
        is_last = k == len(bands) - 1
        columns = st.columns(ACROSS, vertical_alignment="bottom")
        for column, field in zip(columns, fields, strict=False):
            with column:
                if is_last and field.path == "up_to":
                    st.markdown("All that is larger")
                    continue
                entry(sheet, field, BAND[field.path], f"{path}.bands.{k}.")
        columns[-1].button(
            "Take it away",
            key=f"drop_band_{j}_{k}",
            on_click=_drop_band,
            args=(j, k),
        )
    _typed(sheet, fields, BAND, f"band_{j}")
    st.button("Add a size", key=f"add_band_{j}", on_click=_add_band, args=(j,))


def _typed(sheet, fields, labels, key):
    """Draw empty fields of something new."""
    columns = []
    for n, field in enumerate(fields):
        with place_of(columns, n, ACROSS):
            unit = field.unit(sheet.currency)
            label = f"New: {labels[field.path].lower()}"
            label = f"{label}, {unit}" if unit else label
            st.text_input(text.escaped(label), key=f"new_{key}_{field.path}")
    if wrong_at(f"new_{key}"):
        text.wrong(wrong_at(f"new_{key}"))


def _read(sheet, fields, labels, key):
    """Return {path: value} of what was typed; None, with a sentence, for a fault."""
    made = {}
    try:
        for field in fields:
            entry_ = st.session_state.get(f"new_{key}_{field.path}", "")
            if field.is_required or key.startswith("band"):
                if not entry_.strip():
                    raise Wrong(f"{labels[field.path]} is missing", "a figure")
            made |= change_of({}, field, entry_, sheet.currency)
    except ScoringError as error:
        st.session_state.setdefault(WRONG, {})[f"new_{key}"] = plain(error)
        return None
    return made


def _clear(fields, key):
    for field in fields:
        st.session_state[f"new_{key}_{field.path}"] = ""


def _add_band(j):
    sheet, fields, key = Edited(), fields_of(Band), f"band_{j}"
    made = _read(sheet, fields, BAND, key)
    if made is None:
        return
    changes = band_added(sheet.data, f"work.{j}.price", made["up_to"], made["per_m2"])
    if sheet.apply(changes, f"new_{key}"):
        _clear(fields, key)


def _drop_band(j, k):
    sheet = Edited()
    sheet.apply(band_taken(sheet.data, f"work.{j}.price", k), f"new_band_{j}")


def aids(sheet):
    """Draw each lifting aid that the buyer has or would buy, and the way to add one."""
    fields = fields_of(Aid)
    held = at(sheet.data, "crew.aids", {})
    text.heading("Lifting aids", "Those that you have, or would buy if one pays.")
    for name in held:
        st.markdown(f"**{text.escaped(_called(name))}**")
        columns = []
        for n, field in enumerate(fields):
            with place_of(columns, n, ACROSS):
                entry(sheet, field, AID[field.path], f"crew.aids.{name}.")
        st.button(
            "Take it away", key=f"drop_aid_{name}", on_click=_drop_aid, args=(name,)
        )
    left = [name for name in AIDS if name not in held]
    if not left:
        return
    if st.session_state.get("new_aid") not in left:
        st.session_state["new_aid"] = left[0]
    st.selectbox("Another aid", left, key="new_aid", format_func=_called)
    _typed(sheet, [f for f in fields if f.is_required], AID, "aid")
    st.button("Add this aid", key="add_aid", on_click=_add_aid)


def _called(name):
    said = name.replace("_", " ")
    return said[:1].upper() + said[1:]


def _add_aid():
    sheet = Edited()
    fields = [field for field in fields_of(Aid) if field.is_required]
    made = _read(sheet, fields, AID, "aid")
    name = st.session_state["new_aid"]
    if made is not None and sheet.apply({f"crew.aids.{name}": made}, "new_aid"):
        _clear(fields, "aid")


def _drop_aid(name):
    Edited().apply({f"crew.aids.{name}": REMOVED}, "new_aid")


def used_machines(sheet):
    """Draw used machines that could be bought, and the way to add one."""
    rows_form(sheet, "also.used", UsedMachine, "Used machines on offer")
