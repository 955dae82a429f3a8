"""The list of jobs and the start of a new one."""
