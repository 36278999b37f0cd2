package inventory

import "strings"

const alphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// checkCharacter returns the check character of s by the hybrid system
// MOD 37,36 of ISO/IEC 7064: it finds every single wrong character and nearly
// every swap of two. s is digits and capital letters only.
func checkCharacter(s string) byte {
	const m = 36
	p := m
	for i := range len(s) {
		p += strings.IndexByte(alphanumeric, s[i])
		if p > m {
			p -= m
		}
		p *= 2
		if p > m {
			p -= m + 1
		}
	}
	return alphanumeric[(m+1-p)%m]
}
