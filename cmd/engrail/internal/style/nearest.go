package style

import (
	"strconv"
	"strings"
)

// Nearest returns the word of the list that the given one was most likely
// meant to be, or nothing when none is near: the fewest letters wrong, missing,
// too many or swapped with their neighbour, at most one in three. Of equally
// near words the first counts, and capitals do not matter. A number is not taken
// for another one.
func Nearest(word string, list []string) string {
	if _, err := strconv.Atoi(word); err == nil {
		return ""
	}
	best, least := "", max(1, (len(word)+1)/3)+1
	for _, w := range list {
		if d := editDistance(strings.ToLower(word), strings.ToLower(w)); d < least && d < len(w) {
			best, least = w, d
		}
	}
	return best
}

// editDistance returns how many letters must be changed, put in, taken out or
// swapped with their neighbour to turn a into b (optimal string alignment).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > longestWord || len(t) > longestWord {
		return max(len(s), len(t))
	}
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			change := rows[i-1][j-1]
			if s[i-1] != t[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}
