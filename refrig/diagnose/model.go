package diagnose

// Model carries what the answer is computed from. Load it once.
type Model struct{}
