"""Sheets of the first screen: which count fits, and one's own gauge."""
