"""The store: tables, one transaction at a time, plain values in and out; SQL lives nowhere else."""
