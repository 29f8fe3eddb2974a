// Package house keeps the rules of the house as tests: which package may import
// which, that everything shown has a comment, that every number checked has a
// source, and that no face names a question.
package house
