"""What the work needs: wire cut from lengths, terminals, sleeves, labels, and how each wire is made."""
