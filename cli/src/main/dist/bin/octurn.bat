@echo off
rem Starts octurn: finds its own folder, finds Java 17 or newer, and hands the command line over.
rem   JAVA_HOME          the Java to use; without it, the first java on the PATH
rem   OCTURN_JAVA_OPTS   more options for Java
rem The file "octurn" beside this one does the same and says why.
setlocal DisableDelayedExpansion

for %%d in ("%~dp0..") do set "OCTURN_HOME=%%~fd"

if defined JAVA_HOME goto named
set "JAVA_EXE="
for %%j in (java.exe) do set "JAVA_EXE=%%~$PATH:j"
if defined JAVA_EXE goto found
echo octurn: no Java found; install Java 17 or newer, or set JAVA_HOME to where it is 1>&2
exit /b 1

:named
set "JAVA_EXE=%JAVA_HOME%\bin\java.exe"
if exist "%JAVA_EXE%" goto found
echo octurn: JAVA_HOME is "%JAVA_HOME%", but there is no bin\java.exe in it; let it name a Java 17 or newer, or unset it 1>&2
exit /b 1

:found
for %%j in ("%JAVA_EXE%") do set "RELEASE=%%~dpj..\release"
set "VERSION="
if exist "%RELEASE%" for /f "usebackq tokens=1,2 delims==" %%a in ("%RELEASE%") do if "%%a"=="JAVA_VERSION" set "VERSION=%%~b"
if not defined VERSION for /f "usebackq tokens=2,3" %%a in (`""%JAVA_EXE%" -version 2>&1"`) do if "%%a"=="version" set "VERSION=%%~b"
set "MAJOR=17"
for /f "delims=.-+_" %%m in ("%VERSION%") do set "MAJOR=%%m"
if %MAJOR% GEQ 17 goto right
echo octurn: Java 17 or newer is needed, but "%JAVA_EXE%" is %VERSION%; install a newer one, or set JAVA_HOME to it 1>&2
exit /b 1

:right
set "INSTANT=yes"
set "COMMAND=%~1"
if not defined COMMAND goto archive
if "%COMMAND:~0,1%"=="-" goto archive
set "INSTANT="

:archive
set "JAR=%OCTURN_HOME%\lib\octurn.jar"
set "CLASSES=%OCTURN_HOME%\lib\octurn.classlist"
set "ARCHIVE=%OCTURN_HOME%\lib\octurn.jsa"
set "KEY=%JAVA_EXE% %VERSION% %OCTURN_HOME%"
set "MADE=none"
if exist "%ARCHIVE%.key" set /p MADE=<"%ARCHIVE%.key"
set "USE="
if defined INSTANT goto start
if "%MADE%"=="%KEY%" goto use
if not exist "%CLASSES%" goto start
"%JAVA_EXE%" -Xlog:disable -Xshare:dump "-XX:SharedClassListFile=%CLASSES%" "-XX:SharedArchiveFile=%ARCHIVE%.part" -cp "%JAR%" <nul >nul 2>&1
if errorlevel 1 del /q "%ARCHIVE%" "%ARCHIVE%.part" >nul 2>&1
if exist "%ARCHIVE%.part" move /y "%ARCHIVE%.part" "%ARCHIVE%" >nul 2>&1
call :remember 2>nul

:use
if exist "%ARCHIVE%" set USE="-XX:SharedArchiveFile=%ARCHIVE%"

:start
"%JAVA_EXE%" -Xlog:disable -Xshare:auto %USE% -XX:CompileThresholdScaling=5 -Djava.awt.headless=true "-Dlibrary.jline.path=%OCTURN_HOME%\lib\native" %OCTURN_JAVA_OPTS% -cp "%JAR%" octurn.cli.Main %*
exit /b %ERRORLEVEL%

:remember
>"%ARCHIVE%.key" echo %KEY%
exit /b 0
