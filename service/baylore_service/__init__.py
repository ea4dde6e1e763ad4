"""The REST service: routes, desk, store; the knowledge engine below."""
