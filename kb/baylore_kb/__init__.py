"""Baylore's knowledge engine: trade knowledge and the arithmetic of a shop's fault memory."""
