// Sets the kept choice of light or dark before the first paint. The key is that of storage/theme.ts.
try {
  const theme = localStorage.getItem('gripwright-theme');
  if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;
} catch {
  // storage is shut off; the system decides
}
