// Package homeuse knows who may put an active ingredient on a home lawn: by what
// an extension text, a label or a law says of it, with the date of that text, and
// by the exceptions of states, forms and kinds of grass. It does not know pests,
// pages, or what a grass bears. The label on the container decides in the end.
package homeuse
