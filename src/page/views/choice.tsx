/** A choice out of a few words, with its label above. */
export const Choice = <Word extends string>({
  label,
  value,
  words,
  shown = (word) => word,
  onChange,
}: Readonly<{
  label: string;
  value: Word;
  words: readonly Word[];
  shown?: (word: Word) => string;
  onChange: (word: string) => void;
}>) => (
  <label class="wish">
    <span>{label}</span>
    <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
      {words.map((word) => (
        <option key={word} value={word}>
          {shown(word)}
        </option>
      ))}
    </select>
  </label>
);
