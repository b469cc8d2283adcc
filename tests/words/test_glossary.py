"""The glossary: each term once, a sentence and an example that reckons right."""

from scoring.words.glossary import GROUPS, METHOD, MONEY, ON_SITE


def test_each_term_is_told_once_in_a_sentence_with_an_example():
    """A meaning and an example are sentences of their own."""
    terms = [term for _, group in GROUPS for term in group]
    assert len({term.word for term in terms}) == len(terms)
    for term in terms:
        assert term.meaning.endswith(".") and term.example.endswith(".")
        assert term.meaning.count(". ") == 0, term.word


def test_examples_reckon_right():
    """2 m / 5 cm = 40; ⌈5/2⌉ = 3; 100 · 1.09 = 109; 17 · 30 · 12 = 6,120."""
    said = " ".join(term.example for term in (*ON_SITE, *MONEY, *METHOD))
    assert round(2 / 0.05) == 40 and "40 of them" in said
    assert -(-5 // 2) == 3 and "takes three" in said
    assert round(100 * 1.09) == 109 and "109 next year is 100 today" in said
    assert 17 * 30 * 12 == 6120 and "6,120 a year" in said
