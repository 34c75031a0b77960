package publish

// Report counts what a Write did to the folder.
type Report struct{ Written, Unchanged, Removed int }

// Write brings a folder up to the site.
func Write(site *Site, dir string) (Report, error) { return Report{}, nil }
