export function isChanged(root: string, sources?: readonly string[], mark?: string): boolean;
