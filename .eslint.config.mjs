import tseslint from "typescript-eslint";

export default tseslint.config(
  { ignores: ["dist/**", "build/**", "node_modules/**", "notebooks/**"] },
  {
    files: ["src/**/*.ts", "src/**/*.tsx", "tests/**/*.ts"],
    extends: [tseslint.configs.base],
    languageOptions: {
      parserOptions: { project: "./tests/tsconfig.json", tsconfigRootDir: import.meta.dirname },
    },
    rules: {
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": "error",
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      "@typescript-eslint/no-unnecessary-type-assertion": "error",
      "@typescript-eslint/consistent-type-imports": "error",
      "no-restricted-syntax": [
        "error",
        { selector: "ExportDefaultDeclaration", message: "export by name: one word for one thing" },
        {
          selector: 'ImportDeclaration[source.value="zod"][importKind="value"] > ImportSpecifier',
          message: 'import * as z from "zod": any other way bundles the whole package',
        },
      ],
      eqeqeq: "error",
      "no-console": "error",
      "prefer-const": "error",
    },
  },
  { files: ["src/command/**/*.ts", "tests/bench/**/*.ts"], rules: { "no-console": "off" } },
);
