"""What each verb does: from arguments through the pipeline to a sheet or a JSON document."""
