# An Arm Cortex-M4 with single-precision floating point, without an operating system.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR cortex-m4f)
set(CMAKE_C_COMPILER arm-none-eabi-gcc)
set(CMAKE_CXX_COMPILER arm-none-eabi-g++)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)  # a program needs the board's own start-up
set(machine "-mcpu=cortex-m4 -mthumb -mfloat-abi=hard -mfpu=fpv4-sp-d16 --specs=nano.specs")
set(CMAKE_C_FLAGS_INIT "${machine} -ffunction-sections -fdata-sections")
# -Wno-psabi: GCC tells of a change of its own, long ago, in how pairs of doubles are passed.
set(CMAKE_CXX_FLAGS_INIT
    "${machine} -ffunction-sections -fdata-sections -fno-exceptions -fno-rtti -fno-threadsafe-statics -Wno-psabi")
set(CMAKE_C_FLAGS_MINSIZEREL "-Os -DNDEBUG")
set(CMAKE_CXX_FLAGS_MINSIZEREL "-Os -DNDEBUG")
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
