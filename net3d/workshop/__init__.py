"""The workshop: nets worked on in a browser, solved after every change, kept in their files when asked."""
