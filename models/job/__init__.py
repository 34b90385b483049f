"""A job: what is asked for, read from a job file and checked."""
