import { themeChoices, useTheme } from "./theme.js";

const names = { system: "As system", light: "Light", dark: "Dark" } as const;

/** Light, dark, or like the system. */
export const ThemeSwitch = () => {
  const { choice, setChoice } = useTheme();
  return (
    <label class="theme-switch">
      <span>Look</span>
      <select
        value={choice}
        onChange={(event) => {
          const next = themeChoices.find((one) => one === event.currentTarget.value);
          if (next !== undefined) setChoice(next);
        }}
      >
        {themeChoices.map((one) => (
          <option key={one} value={one}>
            {names[one]}
          </option>
        ))}
      </select>
    </label>
  );
};
