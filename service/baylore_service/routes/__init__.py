"""HTTP: thin handlers over the desk."""
