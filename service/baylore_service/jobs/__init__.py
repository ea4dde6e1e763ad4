"""Timed acts, each a call into the desk."""
