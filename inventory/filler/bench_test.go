package filler

import "testing"

func BenchmarkDecode(b *testing.B) {
	for _, text := range []string{"E71T-1C-H8", "E71T-1C/-1M-H8", "E309LT1-1/4", "ER70S-6", "E81T1-Ni1C"} {
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
