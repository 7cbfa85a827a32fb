"""Parts, looms, jobs, needs and operations: frozen records that know nothing of files or currents."""
