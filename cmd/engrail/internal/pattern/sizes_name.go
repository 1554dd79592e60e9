package pattern

import (
	"slices"
	"strconv"
	"strings"
)

// word is a part of a name and what stands before it.
type word struct{ before, text string }

// wordsOf divides a name where people and drawing programs do.
func wordsOf(name string) []word {
	var all []word
	rest := name
	for {
		i := strings.IndexFunc(rest, func(c rune) bool { return !strings.ContainsRune(" _-:()", c) })
		if i < 0 {
			return all
		}
		end := strings.IndexAny(rest[i:], " _-:()")
		if end < 0 {
			return append(all, word{rest[:i], rest[i:]})
		}
		all = append(all, word{rest[:i], rest[i : i+end]})
		rest = rest[i+end:]
	}
}

// sizeName returns the size that a name has in it, such as 38 of "front-38" or
// XS of "size XS", and the name without it: nothing when it says only the size.
// A name with two sizes in it, or that of a layer that nobody named, has none.
func sizeName(name string) (size, rest string) {
	words := wordsOf(name)
	at := -1
	for i, w := range words {
		low := strings.ToLower(w.text)
		if strings.HasPrefix(low, "layer") {
			return "", name
		}
		if _, ok := sizeWord(w.text); !ok || onlyUpper(w.text) && !alone(words, i) {
			continue
		}
		if at >= 0 {
			return "", name
		}
		at = i
	}
	if at < 0 {
		return "", name
	}
	size, _ = sizeWord(words[at].text)
	for i, w := range words {
		switch {
		case i == at || isNoise(w.text):
		case rest == "":
			rest = w.text
		default:
			rest += w.before + w.text
		}
	}
	return size, rest
}

// SizeInName returns the last word of a file's name that is a size, as it stands
// there, and where it begins; nothing without one.
func SizeInName(name string) (size string, at int) {
	end := 0
	for _, w := range wordsOf(name) {
		begin := end + len(w.before)
		end = begin + len(w.text)
		if _, ok := sizeWord(w.text); ok && !onlyUpper(w.text) {
			size, at = w.text, begin
		}
	}
	return size, at
}

// alone reports whether the other words only say that this one is a size.
func alone(words []word, at int) bool {
	for i, w := range words {
		if i != at && !isNoise(w.text) {
			return false
		}
	}
	return true
}

func isNoise(s string) bool {
	return slices.Contains([]string{"size", "sizes", "sz", "gr", "gr."}, strings.ToLower(s))
}

// onlyUpper reports whether the word is a size only as a capital letter or by
// itself: s, m and l stand for much else.
func onlyUpper(s string) bool { return s == "s" || s == "m" || s == "l" }

// sizeWord reads one word as a size: a number, two with a slash, letters such as
// XS, M or 3XL, or one of these after an s or size without a space.
func sizeWord(s string) (string, bool) {
	number := s
	for _, prefix := range [...]string{"size", "sz", "gr.", "gr", "s"} {
		if len(s) > len(prefix) && strings.EqualFold(s[:len(prefix)], prefix) {
			number = s[len(prefix):]
			break
		}
	}
	if first, second, two := strings.Cut(number, "/"); isNumber(first) && (!two || isNumber(second)) {
		return number, true
	}
	if _, ok := letterRank(s); ok {
		return strings.ToUpper(s), true
	}
	return "", false
}

// letterRank returns the place of a size in letters in their order; M is 0.
func letterRank(s string) (int, bool) {
	s = strings.ToUpper(s)
	if s == "" {
		return 0, false
	}
	extra, last := s[:len(s)-1], s[len(s)-1]
	rank := len(extra)
	if n, ok := strings.CutSuffix(extra, "X"); ok && isNumber(n) {
		rank, _ = strconv.Atoi(n) // digits alone always are a number
	} else if strings.Trim(extra, "X") != "" {
		return 0, false
	}
	switch {
	case last == 'M' && extra == "":
		return 0, true
	case last == 'S':
		return -1 - rank, true
	case last == 'L':
		return 1 + rank, true
	}
	return 0, false
}

// isNumber reports whether a word is a number of up to three digits.
func isNumber(s string) bool {
	return len(s) > 0 && len(s) < 4 && strings.Trim(s, "0123456789") == ""
}

// inSizeOrder sorts the names of sizes, or what has them: by their numbers, by
// their letters, or where they are neither by the other measure.
func inSizeOrder[T any](list []T, name func(T) string, measure func(T) float64) {
	ranks := map[string]float64{}
	for _, read := range []func(string) (float64, bool){numberOf, letterOf} {
		clear(ranks)
		for _, x := range list {
			if r, ok := read(name(x)); ok {
				ranks[name(x)] = r
			}
		}
		if len(ranks) == len(list) {
			break
		}
	}
	if len(ranks) < len(list) {
		for _, x := range list {
			ranks[name(x)] = measure(x)
		}
	}
	slices.SortStableFunc(list, func(a, b T) int {
		switch x, y := ranks[name(a)], ranks[name(b)]; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return strings.Compare(name(a), name(b))
	})
}

// SortSizes puts the names of sizes in order: by number, by letter, or else by
// the alphabet.
func SortSizes(names []string) {
	inSizeOrder(names, func(s string) string { return s }, func(string) float64 { return 0 })
}

// numberOf returns the first number of a name that begins with one.
func numberOf(name string) (float64, bool) {
	digits := name[:len(name)-len(strings.TrimLeft(name, "0123456789"))]
	if len(digits) == 0 || len(digits) > 9 {
		return 0, false
	}
	n, err := strconv.Atoi(digits)
	return float64(n), err == nil
}

func letterOf(name string) (float64, bool) {
	r, ok := letterRank(name)
	return float64(r), ok
}
