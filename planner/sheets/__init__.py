"""What a person reads: results become neutral sheets, and renderers decide only how those look."""
