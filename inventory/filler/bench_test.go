package filler

import "testing"

func BenchmarkDecode(b *testing.B) {
	for _, text := range []string{"E71T-1C-H8", "E71T-1C/-1M-H8", "E309LT1-1/4", "ER70S-6", "E81T1-Ni1C-JH4", "E81T1-M21A8-Ni1-H4", "ER80S-D2", "ER308LSi",
		"ER5356", "E8018-C3-H4R", "T 46 3 1Ni B M21 1 H5", "T 55 4 T5-1 M21 A-N2-U H5", "T 23 12 L R M21 3", "G 46 5 M21 3Si1"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = Decode(text)
			}
		})
	}
}

func BenchmarkDecodeGas(b *testing.B) {
	for _, text := range []string{"M21-ArC-18", "SG-AC-25", "82 Ar 18 CO2", "75/25"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, _ = DecodeGas(text)
			}
		})
	}
}

func BenchmarkReadTables(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		readBook()
	}
}
