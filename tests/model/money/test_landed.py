"""Landed cost by terms of delivery, against a check case, by hand and by invariants."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scoring.errors import ScoringError
from scoring.model.money.landed import (
    CUSTOMS_BASES,
    TERMS,
    WITHOUT_FREIGHT,
    Landed,
    bases,
    landed_cost,
    missing,
    parts_of_terms,
)

# A check case in the manner of the UK, rates only as an example; derived by us from the
# rules (customs value: transaction value + transport and insurance to the border;
# import tax base: EU Directive 2006/112, art. 85–86), not printed by anyone. The rules
# were read in secondary pages, the directive in its text.
CASE = {
    "price": 20_000,
    "freight": 1_800,
    "insurance": 0.005 * (20_000 + 1_800),
    "duty": 0.02,
    "import_tax": 0.20,
    "inland_freight": 400,
    "broker": 250,
}
OTHERS = {"training": 300, "accessories": 120, "vehicle_fitting": 80}
FREE_LINES = [name for name in Landed._fields if name != "price"]
sums = st.floats(0, 1e5)
shares = st.floats(0, 0.5)


def total(**given):
    terms = given.pop("terms", "FCA")
    return sum(landed_cost(given.pop("price"), terms, **given))


def test_check_case():
    """The build-up to the cent, import tax paid."""
    # 20 000 + 1 800 + 109 = 21 909; × 2 % = 438.18; + 400 + 250 = 22 997.18;
    # × 20 % = 4 599.436; in all 22 997.18 + 4 599.44 = 27 596.62
    case = dict(CASE)
    price = case.pop("price")
    on = dict(case)
    del on["import_tax"]
    found = bases(price, "FCA", **on)
    lines = landed_cost(price, "FCA", **case)
    assert found.customs_value == pytest.approx(21_909, abs=0.005)
    assert lines.duty == pytest.approx(438.18, abs=0.005)
    assert found.import_tax_base == pytest.approx(22_997.18, abs=0.005)
    assert lines.import_tax == pytest.approx(4_599.44, abs=0.005)
    assert sum(lines) == pytest.approx(27_596.62, abs=0.005)


def test_check_case_recovered():
    """The same where the buyer gets the import tax back."""
    lines = landed_cost(**CASE, terms="FCA", is_recovered=True)
    assert lines.import_tax == 0
    assert sum(lines) == pytest.approx(22_997.18, abs=0.005)


def test_broker_left_out_of_the_tax_base():
    """Where the broker's fee is not taxed, a fifth of it is saved."""
    found = total(**CASE) - total(**CASE, is_broker_taxed=False)
    assert found == pytest.approx(0.20 * 250)


@pytest.mark.parametrize(
    "terms, held",
    [
        ("EXW", ""),
        ("FCA", "export_clearance"),
        ("FOB", "export_clearance"),
        ("CIF", "export_clearance freight insurance"),
        ("DAP", "export_clearance freight inland_freight"),
        ("DDP", "export_clearance freight duty import_tax broker inland_freight"),
    ],
)
def test_who_pays_for_what(terms, held):
    """The seller's parts are those of the Incoterms 2020 table; the rest is added."""
    parts = parts_of_terms(terms)
    assert parts.held == ("price", *held.split())
    assert sorted(sum(parts, ())) == sorted(Landed._fields)
    assert parts.not_asked == (("insurance",) if terms in ("DAP", "DDP") else ())
    assert set(OTHERS) <= set(parts.added)


def test_lines_of_every_term():
    """One sum for each part: what each of the terms leaves the buyer to pay."""
    # EXW: all; FCA and FOB: less clearance 50; CIF: less freight 200 and insurance 10;
    # DAP: duty, tax and broker only; DDP: nothing on the way. Own parts are always 500.
    # EXW, FCA, FOB: customs value 1 000 + 50 (EXW) + 200 + 10;
    # CIF 1 000; DAP 1 000 − 30 inland shown within. Duty 10 %.
    # Tax 20 % on customs value + duty + inland 30 + broker 20:
    #   EXW 1260 + 126 + 50 = 1436 → 287.2; FCA 1210 + 121 + 50 = 1381 → 276.2
    #   CIF 1000 + 100 + 50 = 1150 → 230;   DAP 970 + 97 + 50 = 1117 → 223.4
    # sums: EXW 1000 + 50 + 200 + 10 + 126 + 287.2 + 20 + 30 + 500 = 2223.2
    #   FCA 1000 + 200 + 10 + 121 + 276.2 + 50 + 500 = 2157.2; CIF 1000 + 100 + 230 +
    #   50 + 500 = 1880; DAP 1000 + 97 + 223.4 + 20 + 500 = 1840.4; DDP 1500
    lines = landed_cost(
        1000.0,
        np.array(TERMS)[None, :, None],
        export_clearance=50,
        freight=200,
        insurance=10,
        duty=0.1,
        import_tax=0.2,
        broker=20,
        inland_freight=30,
        **OTHERS,
    )
    found = sum(lines)
    assert found.shape == (1, 6, 1)
    sums = dict(zip(TERMS, found[0, :, 0].tolist(), strict=True))
    assert sums == pytest.approx(
        {
            "EXW": 2223.2,
            "FCA": 2157.2,
            "FOB": 2157.2,
            "CIF": 1880,
            "DAP": 1840.4,
            "DDP": 1500,
        }
    )


def test_customs_value_without_freight():
    """Where customs leaves freight and insurance out, a CIF price is less both."""
    # 1 000 − 200 − 10 = 790; under FCA they are not in the price: 1 000
    way = {"freight": 200, "insurance": 10, "customs_basis": WITHOUT_FREIGHT}
    assert bases(1000, "CIF", **way).customs_value == 790
    assert bases(1000, "FCA", **way).customs_value == 1000
    assert bases(1000, "EXW", **way, export_clearance=50).customs_value == 1050


def test_customs_value_is_the_same_whoever_carries():
    """The same goods on the same way have one customs value and one tax base."""
    # 1 000 at the works, clearance 50, freight 200, insurance 10, inland 30
    way = {"freight": 200, "insurance": 10, "inland_freight": 30, "broker": 20}
    for basis, value in zip(CUSTOMS_BASES, (1260, 1050), strict=True):
        found = [
            bases(price, terms, **way, export_clearance=50, customs_basis=basis)
            for price, terms in ((1000, "EXW"), (1050, "FCA"), (1260, "CIF"))
        ]
        # to the yard, insured by the seller: all but import in the price
        found.append(bases(1290, "DAP", **way, customs_basis=basis))
        assert [each.customs_value.item() for each in found] == [value] * 4
        assert [each.import_tax_base.item() for each in found] == [value + 50] * 4


def test_missing_lines():
    """What a quote leaves open is asked for by name, in the order of the build-up."""
    given = {"price", "freight", "duty", "training", "accessories", "vehicle_fitting"}
    assert missing("EXW", given) == (
        "export_clearance",
        "insurance",
        "import_tax",
        "broker",
        "inland_freight",
    )
    assert missing("CIF", given) == ("import_tax", "broker", "inland_freight")
    assert missing("DDP", given) == ()
    assert missing("DDP", given - {"price", "training"}) == ("price", "training")


@given(st.sampled_from(TERMS), st.sets(st.sampled_from(Landed._fields)))
def test_nothing_is_missing_once_it_is_given(terms, given):
    """What is missing is never given, and giving it leaves nothing to ask."""
    open_ = missing(terms, given)
    assert not given & set(open_)
    assert missing(terms, given | set(open_)) == ()
    assert set(open_) <= {"price", *parts_of_terms(terms).added}


@given(st.sampled_from(TERMS), sums, sums, sums, shares, shares, sums, sums, sums)
def test_a_higher_price_never_costs_less(
    terms, low, more, sum_, duty, tax, broker, clearance, training
):
    """A higher quote is at least as much more to the yard; recovered tax never more."""
    given = {
        "export_clearance": clearance,
        "freight": sum_,
        "insurance": sum_ / 100,
        "duty": duty,
        "import_tax": tax,
        "broker": broker,
        "training": training,
    }
    cheap, dear = (total(price=p, terms=terms, **given) for p in (low, low + more))
    assert dear - cheap >= more - 1e-6 * (1 + low + more)
    recovered = total(price=low, terms=terms, is_recovered=True, **given)
    assert recovered <= cheap


@given(st.sampled_from(TERMS), st.sampled_from(FREE_LINES), st.floats(1, 1e4))
def test_lines_the_buyer_does_not_pay_are_0(terms, name, sum_):
    """A line is paid where the terms add it and is 0 everywhere else."""
    is_rate = name in ("duty", "import_tax")
    lines = landed_cost(1e5, terms, **{name: sum_ / 1e5 if is_rate else sum_})
    paid = getattr(lines, name)
    is_added = name in parts_of_terms(terms).added
    assert paid == pytest.approx(sum_ if is_added else 0)
    assert lines.price == 1e5


def test_shapes():
    """Draws of the price and machines' own terms meet in (draw, machine, 1)."""
    price = np.array([1000.0, 1100, 1200, 1300]).reshape(4, 1, 1)
    terms = np.array(["FCA", "DDP"]).reshape(1, 2, 1)
    lines = landed_cost(price, terms, duty=np.array([[[0.1], [0.3]]]))
    assert {line.shape for line in lines} == {(4, 2, 1)}
    assert lines.duty[..., 0] == pytest.approx(
        np.array([[100, 0], [110, 0], [120, 0], [130, 0]])
    )


@pytest.mark.parametrize(
    "call, sentence",
    [
        (
            lambda: landed_cost(1.0, "FAS"),
            "terms: 'FAS'; one of EXW, FCA, FOB, CIF, DAP, DDP",
        ),
        (
            lambda: parts_of_terms("fob"),
            "terms: 'fob'; one of EXW, FCA, FOB, CIF, DAP, DDP",
        ),
        (lambda: landed_cost(-1.0, "FOB"), "price: -1; 0 or more"),
        (lambda: landed_cost(1.0, "FOB", training=np.nan), "training: nan; 0 or more"),
        (
            lambda: landed_cost(1.0, "FOB", customs_basis="mid"),
            "customs basis: 'mid'; to_border or without_freight",
        ),
        (
            lambda: landed_cost(
                100.0, "CIF", freight=130.0, customs_basis=WITHOUT_FREIGHT
            ),
            "customs value: -30; the parts shown within a price are more than the "
            "price",
        ),
        (
            lambda: missing("FOB", ["customs"]),
            f"line: 'customs' is not one; one of {', '.join(Landed._fields)}",
        ),
    ],
)
def test_faults_in_sentences(call, sentence):
    """What cannot be is named with what is allowed."""
    with pytest.raises(ScoringError) as fault:
        call()
    assert str(fault.value) == sentence
