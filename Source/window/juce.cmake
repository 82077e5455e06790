# JUCE's modules compiled once into one archive, shared by the window and its tests.
# No version is asked for here: JUCE calls itself compatible with its own major version only, and 7 and 8 both do.
find_package(JUCE CONFIG REQUIRED)
if(JUCE_VERSION VERSION_LESS 7.0.5)
  message(FATAL_ERROR "JUCE ${JUCE_VERSION} is too old: 7.0.5 or newer is needed (Debian package juce-modules-source)")
endif()
# Debian takes libpng and libjpeg out of JUCE, and only JUCE's own target functions link them.
pkg_check_modules(JUCE_IMAGES REQUIRED IMPORTED_TARGET libpng libjpeg)

add_library(juce_static STATIC)
set_target_properties(juce_static PROPERTIES UNITY_BUILD OFF) # each of JUCE's files wants to be the first
target_link_libraries(juce_static
  PRIVATE juce::juce_gui_basics juce::juce_audio_devices PkgConfig::JUCE_IMAGES juce::juce_recommended_config_flags)
target_compile_definitions(juce_static
  PUBLIC
    JUCE_WEB_BROWSER=0
    JUCE_USE_CURL=0
    JUCE_JACK=0
    JUCE_DISPLAY_SPLASH_SCREEN=0
    JUCE_STANDALONE_APPLICATION=1
    JUCE_MODAL_LOOPS_PERMITTED=1
  INTERFACE $<TARGET_PROPERTY:juce_static,COMPILE_DEFINITIONS>)
target_include_directories(juce_static SYSTEM INTERFACE $<TARGET_PROPERTY:juce_static,INCLUDE_DIRECTORIES>)

# Two fifths of the time of compiling JUCE go into optimising code that waits for people: only drawing and sound have all of it.
foreach(module juce_core juce_data_structures juce_events juce_gui_basics)
  get_target_property(modules juce::${module} INTERFACE_JUCE_MODULE_PATH)
  set_source_files_properties("${modules}/${module}/${module}.cpp" PROPERTIES COMPILE_OPTIONS $<$<CONFIG:Release>:-O1>)
endforeach()
