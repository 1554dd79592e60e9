// Package style reads the style file: the YAML in which a designer says what a
// style's motif, panels, seams, facing, sizes and outputs are.
//
// [Parse] turns the file's bytes into a [Style], plain values with every length
// in mm and everything that was left out filled in. It is strict: a word that
// the file's form does not have is an error with its line and column and the
// nearest word that it has. [Schema] is the form as a JSON Schema, for editors
// that complete and check the file while it is written; [Starter] is a file to
// begin with.
//
// The structs in model.go are the only place where the form is defined: their
// tags are the keys and limits, and their comments the schema's descriptions.
// To add a key, add a field with a comment there and run the tests with
// -update.
//
// # Tags
//
//	yaml:"width"       the key
//	rule:"positive"    a number above 0; without a rule it is 0 or above
//	rule:"signed"      a number of either sign
//	rule:"required"    the key cannot be left out
//	rule:"bare"        a value in place of the mapping is this key's
//	rule:"none"        the word none stands for 0
//	enum:"a,b"         the words that it can be
//	keys:"a,b"         the keys that a map can have
//	min:"1" max:"8"    limits of a whole number; max also of a list
package style
