# Flags that every target of this project is built with, and the two functions that make targets.

add_library(sipladder_flags INTERFACE)
target_compile_features(sipladder_flags INTERFACE cxx_std_20)
target_compile_options(sipladder_flags INTERFACE
    $<$<COMPILE_LANGUAGE:CXX>:-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion
    -Wold-style-cast -Wdouble-promotion>
    -ffp-contract=off)  # no fused multiply-add: two machines must agree to the last bit
target_include_directories(sipladder_flags INTERFACE ${PROJECT_SOURCE_DIR})
# What the linker writes cannot be written over while the program runs; tests/tools/binary.sh looks for it.
target_link_options(sipladder_flags INTERFACE -Wl,-z,relro,-z,now,-z,noexecstack)
# A defect in what reads bytes from outside ends the program and opens no door. The sanitizers do the same and more,
# and _FORTIFY_SOURCE wants optimisation.
if(NOT SIPLADDER_SANITIZE)
    target_compile_options(sipladder_flags INTERFACE -fstack-protector-strong -fstack-clash-protection
        $<$<AND:$<CONFIG:Release,RelWithDebInfo,MinSizeRel>,$<NOT:$<BOOL:$<TARGET_PROPERTY:SIPLADDER_ONLY_CALLS>>>>:-U_FORTIFY_SOURCE;-D_FORTIFY_SOURCE=2>)
    if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
        # With _FORTIFY_SOURCE this compiler sees overruns in short strings that are made from long literals or moved; the
        # address sanitizer looks for true ones.
        target_compile_options(sipladder_flags INTERFACE -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread)
    endif()
endif()
if(SIPLADDER_SANITIZE)
    # The tests call what is instrumented; instrumented themselves they would take twice as long to build.
    target_compile_options(sipladder_flags INTERFACE -fno-omit-frame-pointer
        $<$<NOT:$<BOOL:$<TARGET_PROPERTY:SIPLADDER_ONLY_CALLS>>>:-fsanitize=address,undefined;-fno-sanitize-recover=all>)
    target_link_options(sipladder_flags INTERFACE -fsanitize=address,undefined)
endif()

# sipladder_library(name SOURCES a.cpp … USES target … READS header … ALONE b.cpp … COMPUTES): a static library and its
# alias sipladder::name. READS: headers that nearly all of its files read. ALONE: those of its files that name things as
# their neighbours do. COMPUTES: long enough to be optimised under sanitizers; half the time of that build goes into
# optimising instrumented code.
# With SIPLADDER_IN_BULK, for builds from nothing: headers are read once for a library, and its files are compiled some at
# a time; half the time of CI. The dev build and tools/tidy do without, so that a missing include is seen and a changed
# file is built alone.
function(sipladder_library name)
    cmake_parse_arguments(arg "COMPUTES" "" "SOURCES;USES;READS;ALONE" ${ARGN})
    add_library(${name} STATIC ${arg_SOURCES})
    if(SIPLADDER_IN_BULK)
        set_target_properties(${name} PROPERTIES UNITY_BUILD ON UNITY_BUILD_BATCH_SIZE 8)
        set_source_files_properties(${arg_ALONE} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
        target_precompile_headers(${name} PRIVATE <algorithm> <filesystem> <functional> <map> <memory> <optional> <span>
            <string> <variant> <vector> ${arg_READS})
    endif()
    if(SIPLADDER_SANITIZE AND arg_COMPUTES)
        target_compile_options(${name} PRIVATE -O1)
    endif()
    add_library(sipladder::${name} ALIAS ${name})
    target_link_libraries(${name} PUBLIC sipladder_flags ${arg_USES})
    set_target_properties(${name} PROPERTIES OUTPUT_NAME sipladder_${name} CXX_EXTENSIONS OFF)
endfunction()

# sipladder_program(name SOURCES a.cpp … USES target …): an executable.
function(sipladder_program name)
    cmake_parse_arguments(arg "" "" "SOURCES;USES" ${ARGN})
    add_executable(${name} ${arg_SOURCES})
    target_link_libraries(${name} PRIVATE sipladder_flags ${arg_USES})
    set_target_properties(${name} PROPERTIES CXX_EXTENSIONS OFF)
endfunction()
