"""Inputs spoilt by the thousand: accepted, or refused in a sentence."""
