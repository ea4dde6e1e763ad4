"""Checks of values at the desk: whatever way they came in, what cannot be is refused by its field."""
