// Package toolpath is what a knife does: along one line, and from line to line.
package toolpath
