"""A reader of XML that knows no entities and follows nothing."""

from xml.parsers import expat

XmlError = expat.ExpatError


class Entities(ValueError):
    """Entities of a document's own, which may grow beyond measure or name files."""


def parser(separator=None):
    """Return an expat parser that raises Entities where a document declares any.

    A bare DOCTYPE, as many drawings have it, is passed over and never fetched.

    Parameters
    ----------
    separator : text between namespace and name, None where namespaces do not matter
    """
    made = expat.ParserCreate("utf-8", separator)
    made.buffer_text = True
    made.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
    made.StartDoctypeDeclHandler = _doctype
    made.EntityDeclHandler = made.SkippedEntityHandler = _entity
    made.ExternalEntityRefHandler = _entity
    return made


def _doctype(name, system, public, has_subset):
    if has_subset:
        raise Entities


def _entity(*_):
    raise Entities
