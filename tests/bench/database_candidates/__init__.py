"""Candidates from PostgreSQL beside candidates from memory."""
