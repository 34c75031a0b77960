// Package publish prints issues: it turns them into the pages, feeds and
// newsletters of a static site, and writes that site to a folder so that a
// crash at any moment leaves the last one whole. [Render] is a pure function
// of its arguments and touches no disk; [Write] touches nothing but the folder
// that it is given. The package knows no models and no law: it prints what the
// issue says, in the words of the phrase book and the templates.
package publish
