package say

import "strings"

// beltWords are the words of belt drives, each with that of chain drives.
var beltWords = strings.NewReplacer("pulleys", "sprockets", "pulley", "sprocket", "belts", "chains", "belt", "chain", "Pulleys", "Sprockets", "Belt", "Chain")

// ofChain puts the words of chain drives in the place of those of belt drives, in a text
// without ids.
func ofChain(text string, chained bool) string {
	if !chained {
		return text
	}
	return beltWords.Replace(text)
}
